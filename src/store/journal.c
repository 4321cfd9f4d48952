/* A rollback journal held against its job, before SQLite may play it back.
 *
 * SQLite plays back any hot journal that lies beside a file under the right name: one that belongs to another
 * copy makes a heap of pages out of a good job, and one that names a super-journal has that file
 * deleted. A journal keeps no identity; what tells is what comes of it. So both are read, the job as it
 * stands and the job with the journal played back in memory, and each is put to the checks that a job passes
 * at opening:
 *
 *     only played back it is whole          the journal is the job's own: the last edit was cut off
 *     whole both ways, at most one event    the same, cut off before its first or after its last page
 *     apart, and the same log before that
 *     whole as it stands                    the journal is of another file
 *     whole neither way                     nothing is touched
 *
 * Format: sqlite.org/fileformat2.html, section 3 (The Rollback Journal); its check sums and the name of a
 * super-journal as SQLite 3.40.1 reads them in pager.c.
 */

#include "store/inside.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { HEADER = 28, SECTOR_LEAST = 32, SECTOR_MOST = 65536, TRAILER = 16 };

static const unsigned char magic[8] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};

static uint32_t number_at(const unsigned char *p)
{
    return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 | (uint32_t)p[2] << 8 | p[3];
}

static size_t page_of(const unsigned char *head)
{
    size_t page = (size_t)head[16] << 8 | head[17];
    return page == 1 ? 65536 : page;
}

/* ---- reading it ---------------------------------------------------------------------- */

/* It ends in the name of a super-journal. Any name counts here, SQLite's own checks are stricter. */
static bool names_another(const struct store_bytes *j)
{
    return j->length >= TRAILER && memcmp(j->at + j->length - 8, magic, 8) == 0;
}

static bool fields_fit(const unsigned char *head, size_t page)
{
    uint32_t sector = number_at(head + 20);
    return number_at(head + 24) == page && sector >= SECTOR_LEAST && sector <= SECTOR_MOST &&
           (sector & (sector - 1)) == 0;
}

/* Its first sector was never finished, so nothing was written to the job yet; SQLite passes it by and writes
   over it. */
static bool never_began(const struct store_bytes *j, const struct store_bytes *job)
{
    static const unsigned char none[12];
    return j->length >= HEADER && memcmp(j->at, none, sizeof none) == 0 &&
           fields_fit(j->at, page_of(job->at)) && !names_another(j);
}

static uint32_t sum_of_page(uint32_t sum, const unsigned char *page, size_t size)
{
    for (size_t i = size > 200 ? size - 200 : 0; i > 0; i = i > 200 ? i - 200 : 0)
        sum += page[i];
    return sum;
}

/* Put back the pages of the section at AT, a header and its records; false at the end of what can be
   played. */
static bool play_section(const struct store_bytes *j, size_t *at, size_t sector, size_t page,
                         struct store_bytes *job)
{
    const unsigned char *head = j->at + *at;
    if (*at + sector > j->length || memcmp(head, magic, sizeof magic) != 0)
        return false;
    uint32_t count = number_at(head + 8), nonce = number_at(head + 12), pages = number_at(head + 16);
    size_t record = page + 8, left = (j->length - *at - sector) / record;
    if (*at == 0 && (uint64_t)pages * page < job->length)
        job->length = (size_t)pages * page;
    *at += sector;
    for (uint32_t i = 0; i < count && left > 0; i++, left--, *at += record) {
        uint32_t number = number_at(j->at + *at);
        const unsigned char *bytes = j->at + *at + 4;
        if (number == 0 || number_at(bytes + page) != sum_of_page(nonce, bytes, page))
            return false;
        if ((uint64_t)number * page <= job->length)
            memcpy(job->at + (size_t)(number - 1) * page, bytes, page);
    }
    *at = (*at + sector - 1) / sector * sector;
    return *at < j->length;
}

/* JOB as it stood before the edit that J was written for; what of J was played, 0: J is no journal for pages
   of this size. */
static size_t play_back(const struct store_bytes *j, struct store_bytes *job)
{
    size_t page = page_of(job->at), at = 0;
    if (j->length < HEADER || memcmp(j->at, magic, sizeof magic) != 0 || !fields_fit(j->at, page))
        return 0;
    size_t sector = number_at(j->at + 20), whole = (size_t)number_at(j->at + 16) * page;
    if (whole > job->length + j->length)
        return 0;
    if (whole > job->length) { /* the job was cut: what the journal keeps may fill it up */
        job->at = base_grow(job->at, whole);
        memset(job->at + job->length, 0, whole - job->length);
        job->length = whole;
    }
    while (play_section(j, &at, sector, page, job))
        ;
    return at < j->length ? at : j->length;
}

/* ---- judging it ------------------------------------------------------------------------ */

/* The part of J that is pages, without the name of another file behind them. */
static void keep_pages(const struct store_bytes *j, size_t played, struct journal_found *f)
{
    f->pages = (struct store_bytes){base_alloc(played + 1), played};
    memcpy(f->pages.at, j->at, played);
}

static void judge(struct store *s, const struct store_bytes *job, const struct store_bytes *j,
                  struct journal_found *f)
{
    struct store_bytes back = {base_alloc(job->length + 1), job->length};
    memcpy(back.at, job->at, job->length);
    size_t played = play_back(j, &back);
    struct store *as_it_stands = store_of_bytes(job, s), *before = played ? store_of_bytes(&back, s) : NULL;
    bool own = before && (!as_it_stands || log_follows(as_it_stands, before));
    if (own && !names_another(j))
        f->verdict = JOURNAL_OWN;
    else if (as_it_stands)
        f->verdict = JOURNAL_FOREIGN;
    else if (own)
        f->verdict = JOURNAL_MARRED;
    else
        f->verdict = JOURNAL_HOPELESS;
    if (f->verdict == JOURNAL_MARRED)
        keep_pages(j, played, f);
    store_close(as_it_stands);
    free(back.at);
    f->before = before;
}

/* Read it without following a link and without waiting at a pipe; SIZE is what it had a moment ago. */
static bool read_journal(const char *path, const struct stat *st, const struct store_bytes *job,
                         struct store_bytes *j)
{
    *j = (struct store_bytes){0};
    if ((uint64_t)st->st_size > 2 * (uint64_t)job->length + 16 * SECTOR_MOST)
        return false; /* no journal of this job: it keeps each page once */
    int fd = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (fd < 0)
        return false;
    j->at = base_alloc((size_t)st->st_size + 1);
    while (j->length < (size_t)st->st_size) {
        ssize_t n = read(fd, j->at + j->length, (size_t)st->st_size - j->length);
        if (n <= 0)
            break;
        j->length += (size_t)n;
    }
    close(fd);
    return true;
}

void journal_judge(struct store *s, const char *path, const struct store_bytes *job, struct journal_found *f)
{
    struct stat st;
    struct store_bytes j = {0};
    *f = (struct journal_found){.verdict = JOURNAL_NONE};
    if (lstat(path, &st) != 0)
        return;
    bool ordinary = S_ISREG(st.st_mode) && st.st_nlink == 1;
    if (ordinary && st.st_size == 0)
        return;
    if (ordinary && job->length >= 100 && read_journal(path, &st, job, &j)) {
        if (never_began(&j, job))
            f->verdict = JOURNAL_IDLE;
        else
            judge(s, job, &j, f);
    } else { /* a link, a pipe, a folder, or closed to us: never to be played back, but needed it may be */
        struct store *whole = store_of_bytes(job, s);
        f->verdict = whole ? JOURNAL_FOREIGN : JOURNAL_HOPELESS;
        store_close(whole);
    }
    free(j.at);
}

void journal_found_done(struct journal_found *f)
{
    store_close(f->before);
    free(f->pages.at);
    *f = (struct journal_found){0};
}
