/* A die set to try, the file of one of its plates, and all that is asked of such a file. */

#include "suites.h"

#include <math.h>
#include <stdlib.h>

static const struct solid_head head = {"A set of the tests", "revision A", NULL, "2031-05-17"};

void bed_open(struct bed *b, const char *file)
{
    bed_open_more(b, file, NULL);
}

void bed_open_more(struct bed *b, const char *file, const char *more)
{
    struct dieset_text t;
    char *first = read_text(file), *rest = more ? read_text(more) : base_copy("");
    char *job = base_format("%s\n%s", first, rest);
    free(first);
    free(rest);
    ck_ok(handbook_load("data", &b->h, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    ck_ok(dieset_text_read(b->h, job, file, &t, why));
    ck_ok(dieset_text_load(&t, b->d, why));
    dieset_text_done(&t);
    free(job);
}

void bed_close(struct bed *b)
{
    dieset_free(b->d);
    handbook_free(b->h);
}

char *plate_text(struct dieset *d, const char *plate, enum dieset_state s)
{
    struct base_text out = {0};
    ck_ok(solid_plate(d, dieset_find_item(d, plate), s, &head, &out, why));
    return base_text_take(&out);
}

static void judge_box(const struct judged *j, const struct dieset_plate *p, struct base_text *wrong)
{
    if (fabs(j->low.x) + fabs(j->low.y) + fabs(j->low.z) > 1e-9 || fabs(j->high.x - p->length) > 1e-9 ||
        fabs(j->high.y - p->width) > 1e-9 || fabs(j->high.z - p->thickness_now) > 1e-9)
        base_text_addf(wrong, "it is not as large as the plate; ");
}

void judge_plate(struct dieset *d, int plate, enum dieset_state s, const char *text, struct base_text *wrong)
{
    struct step_file f;
    struct judged j;
    struct round_faces faces;
    struct dieset_plate p = dieset_plate(d, plate, s);
    step_read(&f, text);
    if (f.wrong) {
        base_text_add(wrong, f.wrong);
        step_done(&f);
        return;
    }
    int shell = step_next(&f, "CLOSED_SHELL", 0);
    judge_shell(&f, shell, &j);
    base_text_add(wrong, j.wrong);
    judge_box(&j, &p, wrong);
    double volume = model_volume(d, plate, s);
    if (!(fabs(j.volume - volume) <= 1e-6 * volume / 1000)) /* 1e-9 of the whole */
        base_text_addf(wrong, "a volume of %.6f, not %.6f; ", j.volume, volume);
    judge_rounds(&f, shell, &faces);
    model_match(d, plate, s, &faces, wrong);
    base_vec_done(&faces.at);
    step_done(&f);
}
