/* Characters: what UTF-8 is, how wide one stands, and how one is shown that would not be seen. */

#include "diewright/base.h"

#include <locale.h>
#include <stdio.h>
#include <string.h>
#include <wchar.h>

/* Overlong forms, surrogates and what lies beyond U+10FFFF are no characters (RFC 3629). */
size_t base_char(const char *text, size_t left, uint32_t *ch)
{
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned char *t = (const unsigned char *)text;
    if (left == 0)
        return 0;
    if (t[0] < 0x80) {
        *ch = t[0];
        return 1;
    }
    size_t n = t[0] < 0xc0 ? 0 : t[0] < 0xe0 ? 2 : t[0] < 0xf0 ? 3 : t[0] < 0xf8 ? 4 : 0;
    if (n == 0 || n > left)
        return 0;
    uint32_t c = t[0] & (0x7fu >> n);
    for (size_t i = 1; i < n; i++) {
        if ((t[i] & 0xc0) != 0x80)
            return 0;
        c = c << 6 | (t[i] & 0x3fu);
    }
    if (c < least[n] || (c >= 0xd800 && c <= 0xdfff) || c > 0x10ffff)
        return 0;
    *ch = c;
    return n;
}

/* Controls (C0, DEL, C1) and what Unicode 15 calls Default_Ignorable_Code_Point (DerivedCoreProperties.txt),
 * direction marks, overrides and isolates among them; the separators of lines and paragraphs and the marks of
 * interlinear notes (general categories Zl, Zp, Cf) as well. */
bool base_char_hidden(uint32_t ch)
{
    static const struct { uint32_t first, last;
    } hidden[] = {
        {0, 0x1f},        {0x7f, 0x9f},       {0xad, 0xad},       {0x34f, 0x34f},     {0x61c, 0x61c},
        {0x115f, 0x1160}, {0x17b4, 0x17b5},   {0x180b, 0x180f},   {0x200b, 0x200f},   {0x2028, 0x202e},
        {0x2060, 0x206f}, {0x3164, 0x3164},   {0xfe00, 0xfe0f},   {0xfeff, 0xfeff},   {0xffa0, 0xffa0},
        {0xfff0, 0xfffb}, {0x1bca0, 0x1bca3}, {0x1d173, 0x1d17a}, {0xe0000, 0xe0fff},
    };
    if (ch >= 0x20 && ch < 0x7f)
        return false;
    for (size_t i = 0; i < COUNT_OF(hidden) && ch >= hidden[i].first; i++)
        if (ch <= hidden[i].last)
            return true;
    return false;
}

/* The C library knows widths in a UTF-8 locale only; ours is kept for that, whatever the user's is. */
int base_char_columns(uint32_t ch)
{
    static locale_t utf8;
    if (ch < 0x300)
        return 1;
    if (!utf8)
        utf8 = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
    locale_t before = utf8 ? uselocale(utf8) : (locale_t)0;
    int n = wcwidth((wchar_t)ch);
    if (before)
        uselocale(before);
    return n < 0 ? 1 : n;
}

uint32_t base_next_char(const char **text)
{
    uint32_t ch;
    size_t n = base_char(*text, strnlen(*text, 4), &ch);
    *text += n ? n : 1;
    return n && !base_char_hidden(ch) ? ch : '?';
}

size_t base_char_start(const char *text, size_t at)
{
    uint32_t ch;
    for (size_t back = 1; back <= 4 && back <= at; back++)
        if (base_char(text + at - back, back, &ch) == back)
            return at - back;
    return at ? at - 1 : 0;
}

size_t base_char_fit(const char *text, size_t most)
{
    size_t at = 0;
    while (text[at]) {
        uint32_t ch;
        size_t n = base_char(text + at, strnlen(text + at, 4), &ch);
        n = n ? n : 1;
        if (at + n > most)
            break;
        at += n;
    }
    return at;
}

/* Bytes of the character or stray byte at TEXT, and its visible form in FORM, "" where that is the character
   itself. */
static size_t visible_form(const char *text, size_t left, char form[16], uint32_t *ch)
{
    size_t n = base_char(text, left, ch);
    form[0] = '\0';
    if (n && base_char_hidden(*ch))
        snprintf(form, 16, "<U+%04X>", (unsigned)*ch);
    else if (!n)
        snprintf(form, 16, "<%02X>", (unsigned)(unsigned char)*text);
    return n ? n : 1;
}

/* Eight at a time while none of them is below a blank or above "~": either sets its high bit. */
size_t base_plain(const char *text, size_t n)
{
    const uint64_t ones = 0x0101010101010101u, high = 0x80 * ones;
    size_t at = 0;
    for (uint64_t eight; n - at >= sizeof eight; at += sizeof eight) {
        memcpy(&eight, text + at, sizeof eight);
        if ((eight | (eight + ones) | (eight - ' ' * ones)) & high)
            break;
    }
    while (at < n && text[at] >= ' ' && text[at] < 0x7f)
        at++;
    return at;
}

size_t base_step(const char *text, size_t left, int *columns)
{
    char form[16];
    uint32_t ch;
    if (*text >= 0x20 && *text < 0x7f) {
        *columns += 1;
        return left ? 1 : 0;
    }
    size_t n = visible_form(text, left, form, &ch);
    *columns += form[0] ? (int)strlen(form) : base_char_columns(ch);
    return n;
}

int base_columns(const char *text, size_t n)
{
    size_t at = base_plain(text, n);
    int columns = (int)at;
    while (at < n)
        at += base_step(text + at, n - at, &columns);
    return columns;
}

void base_text_add_visible(struct base_text *t, const char *text, size_t n, bool lines)
{
    size_t done = 0;
    for (size_t at = 0; at < n;) {
        char form[16];
        uint32_t ch;
        at += base_plain(text + at, n - at);
        if (at == n)
            break;
        size_t length = visible_form(text + at, n - at, form, &ch);
        bool line_end = lines &&
                        (text[at] == '\n' || (text[at] == '\r' && at + 1 < n && text[at + 1] == '\n'));
        if (form[0] && !line_end) {
            base_text_add_n(t, text + done, at - done);
            base_text_add(t, form);
            done = at + length;
        }
        at += length;
    }
    base_text_add_n(t, text + done, n - done);
}

size_t base_char_write(char out[5], uint32_t ch)
{
    size_t n = ch < 0x80 ? 1 : ch < 0x800 ? 2 : ch < 0x10000 ? 3 : 4;
    static const unsigned char leads[] = {0, 0, 0xc0, 0xe0, 0xf0};
    for (size_t i = n - 1; i > 0; i--, ch >>= 6)
        out[i] = (char)(0x80 | (ch & 0x3f));
    out[0] = (char)(leads[n] | ch);
    out[n] = '\0';
    return n;
}
