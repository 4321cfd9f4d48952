/* The alphabet, drawn for this program after the proportions of ISO 3098 type B.
 *
 * A letter is strokes parted by blanks, a stroke is points of two signs: x as a digit, y as a digit or
 * letter, counted from four tenths below the line ("4" is the line, "e" the height of capitals, "b" that of
 * small letters). "~" before a point: the stroke is bent towards it instead of going through it; between
 * two such points it goes through their middle. A stroke that begins with one is closed.
 */

#include "draw/letters.h"

#include <string.h>

enum { BELOW = 4, GAP = 2 };

struct letter { uint32_t ch; int width; const char *strokes; };

static const struct letter letters[] = {
    {' ', 3, ""},
    {'!', 1, "0e07 0405151404"},
    {'"', 2, "0e0b 2e2b"},
    {'#', 6, "142e 445e 0767 0b6b"},
    {'$', 6, "6c~6e3e~0e~0939~69~6434~0406 3f33"},
    {'%', 7, "047e ~0e~3e~3b~0b ~47~77~74~44"},
    {'&', 6, "641b~1e~4e4b07~04~5469"},
    {'\'', 0, "0e0b"},
    {'(', 2, "2f~0c~0523"},
    {')', 2, "0f~2c~2503"},
    {'*', 4, "2d27 0c48 084c"},
    {'+', 6, "3c36 0969"},
    {',', 1, "151402"},
    {'-', 4, "0949"},
    {'.', 1, "0405151404"},
    {'/', 5, "035f"},
    {'0', 5, "~0e~5e~54~04"},
    {'1', 5, "1b3e34"},
    {'2', 5, "0c~0e~5e~5a0454"},
    {'3', 5, "0e5e2a~5a~54~0406"},
    {'4', 5, "444e0757"},
    {'5', 5, "5e0e0a2a~5a~54~0406"},
    {'6', 5, "4e~0b07~04~54~5a~0a07"},
    {'7', 5, "0e5e24"},
    {'8', 5, "~0e~5e~5a~0a ~0a~5a~54~04"},
    {'9', 5, "14~575b~5e~0e~08~585b"},
    {':', 1, "0405151404 0a0b1b1a0a"},
    {';', 1, "1a1b 151402"},
    {'<', 5, "5c0956"},
    {'=', 6, "0b6b 0767"},
    {'>', 5, "0c5906"},
    {'?', 5, "0c~0e~5e~5a2827 2425"},
    {'@', 8, "~2b~6b~66~26 6b67~6787~8e~0e~04~7475"},
    {'A', 6, "043e64 1757"},
    {'B', 6, "040e3e~5e~593909 39~69~643404"},
    {'C', 6, "6c~6e3e~0e~0434~6466"},
    {'D', 6, "040e2e~6e~642404"},
    {'E', 5, "5e0e0454 0949"},
    {'F', 5, "5e0e04 0949"},
    {'G', 6, "6c~6e3e~0e~0434~64676939"},
    {'H', 6, "040e 646e 0969"},
    {'I', 0, "040e"},
    {'J', 4, "4e46~4424~0406"},
    {'K', 6, "040e 6e08 2a64"},
    {'L', 5, "0e0454"},
    {'M', 8, "040e478e84"},
    {'N', 6, "040e646e"},
    {'O', 6, "~0e~6e~64~04"},
    {'P', 6, "040e3e~6e~683808"},
    {'Q', 6, "~0e~6e~64~04 3762"},
    {'R', 6, "040e3e~6e~683808 3864"},
    {'S', 6, "6c~6e3e~0e~0939~69~6434~0406"},
    {'T', 6, "0e6e 3e34"},
    {'U', 6, "0e07~0434~64676e"},
    {'V', 6, "0e346e"},
    {'W', 8, "0e244c648e"},
    {'X', 6, "046e 0e64"},
    {'Y', 6, "0e396e 3934"},
    {'Z', 6, "0e6e0464"},
    {'[', 2, "2f0f0323"},
    {'\\', 5, "0f53"},
    {']', 2, "0f2f2303"},
    {'^', 4, "0b2e4b"},
    {'_', 6, "0363"},
    {'`', 2, "0e2c"},
    {'a', 5, "5b54 59~5b~0b~04~5456"},
    {'b', 5, "0e04 09~0b~5b~54~0406"},
    {'c', 5, "5a~5b~0b~04~5455"},
    {'d', 5, "5e54 59~5b~0b~04~5456"},
    {'e', 5, "0858~5b~0b~04~5455"},
    {'f', 3, "3e~1e1b14 0b3b"},
    {'g', 5, "5b52~50~0001 59~5b~0b~04~5456"},
    {'h', 5, "0e04 09~0b~5b5854"},
    {'i', 0, "0b04 0d0e"},
    {'j', 2, "2b22~2000 2d2e"},
    {'k', 4, "0e04 4b07 1844"},
    {'l', 2, "0e06~0424"},
    {'m', 8, "0b04 09~0b~4b4844 49~4b~8b8884"},
    {'n', 5, "0b04 09~0b~5b5854"},
    {'o', 5, "~0b~5b~54~04"},
    {'p', 5, "0b00 09~0b~5b~54~0406"},
    {'q', 5, "5b50 59~5b~0b~04~5456"},
    {'r', 3, "0b04 08~0b3b"},
    {'s', 4, "4a~4b~0b~08~48~44~0405"},
    {'t', 3, "1d16~1434 0b3b"},
    {'u', 5, "0b07~04~5456 5b54"},
    {'v', 4, "0b244b"},
    {'w', 8, "0b244a648b"},
    {'x', 4, "044b 0b44"},
    {'y', 4, "0b24 4b10"},
    {'z', 4, "0b4b0444"},
    {'{', 3, "3f~1f1b~1909~1917~1333"},
    {'|', 0, "0f03"},
    {'}', 3, "0f~2f2b~2939~2927~2303"},
    {'~', 6, "08~1b39~576a"},
    {0xa0, 3, ""},
    {0xa7, 4, "4d~4e~0e~0b~4b~47 ~0b~0747~4707 47~44~0405"}, /* section sign */
    {0xb0, 3, "~0e~3e~3b~0b"},                                /* degree */
    {0xb1, 6, "3d37 0a6a 0464"},
    {0xb2, 3, "0d~0f~3f~3c0a3a"},
    {0xb3, 3, "0f3f1d~3d~3a~0a0b"},
    {0xb5, 5, "0b00 07~04~5456 5b54"},
    {0x3bc, 5, "0b00 07~04~5456 5b54"},
    {0xb7, 0, "0809"},
    {0xbd, 8, "0d1e18 175f 69~6a~8a~886484"},
    {0xc6, 9, "045e9e 5e5494 5999 1858"},
    {0xd7, 5, "065b 0b56"},
    {0xd8, 6, "~0d~6d~65~05 046e"},
    {0x2300, 6, "~0d~6d~65~05 046e"}, /* diameter */
    {0xdf, 5, "040c~0e~4e~4a2a~5a~5424"},
    {0xe6, 8, "4b44 49~4b~0b~04~4446 4888~8b~4b48 48~44~8485"},
    {0xf8, 5, "~0b~5b~54~04 045b"},
    {0x110, 6, "040e2e~6e~642404 0939"},
    {0x111, 5, "5e54 59~5b~0b~04~5456 2c6c"},
    {0x141, 5, "0e0454 083b"},
    {0x142, 2, "1e16~1424 082b"},
    {0x131, 0, "0b04"},
    {0x2013, 6, "0969"},
    {0x2014, 8, "0989"},
    {0x2212, 6, "0969"},
    {0x2019, 1, "1e0b"},
    {0x2026, 6, "0405 3435 6465"},
    {0x2192, 7, "0979 4c7946"},
    {0x2264, 5, "5d0a57 0454"},
    {0x2265, 5, "0d5a07 0454"},
};

/* What stands over (or under) a letter, from three tenths left of its middle on; y from the letter's own
 * height. */
static const struct { char name; const char *strokes;
} signs[] = {
    {'"', "1516 5556"},    {'\'', "3547"},         {'`', "3527"},      {'^', "153755"}, {'v', "173557"},
    {'o', "~26~46~48~28"}, {'~', "15~273647~55 "}, {'.', "3536"},      {'-', "1555"},   {'u', "17~353557"},
    {',', "3432~2211"},    {';', "3432~3041"},     {'=', "2547 4567"},
};

/* Letter, the letter it is made of, the sign. */
static const struct { uint32_t ch; char from, sign; } composed[] = {
    {0xc0, 'A', '`'},  {0xc1, 'A', '\''},  {0xc2, 'A', '^'},  {0xc3, 'A', '~'},  {0xc4, 'A', '"'},
    {0xc5, 'A', 'o'},  {0xc7, 'C', ','},   {0xc8, 'E', '`'},  {0xc9, 'E', '\''}, {0xca, 'E', '^'},
    {0xcb, 'E', '"'},  {0xcc, 'I', '`'},   {0xcd, 'I', '\''}, {0xce, 'I', '^'},  {0xcf, 'I', '"'},
    {0xd1, 'N', '~'},  {0xd2, 'O', '`'},   {0xd3, 'O', '\''}, {0xd4, 'O', '^'},  {0xd5, 'O', '~'},
    {0xd6, 'O', '"'},  {0xd9, 'U', '`'},   {0xda, 'U', '\''}, {0xdb, 'U', '^'},  {0xdc, 'U', '"'},
    {0xdd, 'Y', '\''}, {0xe0, 'a', '`'},   {0xe1, 'a', '\''}, {0xe2, 'a', '^'},  {0xe3, 'a', '~'},
    {0xe4, 'a', '"'},  {0xe5, 'a', 'o'},   {0xe7, 'c', ','},  {0xe8, 'e', '`'},  {0xe9, 'e', '\''},
    {0xea, 'e', '^'},  {0xeb, 'e', '"'},   {0xec, 1, '`'},    {0xed, 1, '\''},   {0xee, 1, '^'},
    {0xef, 1, '"'},    {0xf1, 'n', '~'},   {0xf2, 'o', '`'},  {0xf3, 'o', '\''}, {0xf4, 'o', '^'},
    {0xf5, 'o', '~'},  {0xf6, 'o', '"'},   {0xf9, 'u', '`'},  {0xfa, 'u', '\''}, {0xfb, 'u', '^'},
    {0xfc, 'u', '"'},  {0xfd, 'y', '\''},  {0xff, 'y', '"'},  {0x102, 'A', 'u'}, {0x103, 'a', 'u'},
    {0x104, 'A', ';'}, {0x105, 'a', ';'},  {0x106, 'C', '\''}, {0x107, 'c', '\''}, {0x10c, 'C', 'v'},
    {0x10d, 'c', 'v'}, {0x10e, 'D', 'v'},  {0x10f, 'd', 'v'}, {0x112, 'E', '-'}, {0x113, 'e', '-'},
    {0x116, 'E', '.'}, {0x117, 'e', '.'},  {0x118, 'E', ';'}, {0x119, 'e', ';'}, {0x11a, 'E', 'v'},
    {0x11b, 'e', 'v'}, {0x11e, 'G', 'u'},  {0x11f, 'g', 'u'}, {0x130, 'I', '.'}, {0x143, 'N', '\''},
    {0x144, 'n', '\''}, {0x147, 'N', 'v'}, {0x148, 'n', 'v'}, {0x150, 'O', '='}, {0x151, 'o', '='},
    {0x158, 'R', 'v'}, {0x159, 'r', 'v'},  {0x15a, 'S', '\''}, {0x15b, 's', '\''}, {0x15e, 'S', ','},
    {0x15f, 's', ','}, {0x160, 'S', 'v'},  {0x161, 's', 'v'}, {0x162, 'T', ','}, {0x163, 't', ','},
    {0x164, 'T', 'v'}, {0x165, 't', 'v'},  {0x16e, 'U', 'o'}, {0x16f, 'u', 'o'}, {0x170, 'U', '='},
    {0x171, 'u', '='}, {0x179, 'Z', '\''}, {0x17a, 'z', '\''}, {0x17b, 'Z', '.'}, {0x17c, 'z', '.'},
    {0x17d, 'Z', 'v'}, {0x17e, 'z', 'v'},  {0x218, 'S', ','}, {0x219, 's', ','}, {0x21a, 'T', ','},
    {0x21b, 't', ','},
};

static const struct letter *find(uint32_t ch)
{
    for (size_t i = 0; i < COUNT_OF(letters); i++)
        if (letters[i].ch == ch)
            return &letters[i];
    return NULL;
}

/* The letter that CH is drawn from, and the sign with it, 0: none. */
static const struct letter *taken_from(uint32_t ch, char *sign)
{
    *sign = 0;
    for (size_t i = 0; i < COUNT_OF(composed); i++)
        if (composed[i].ch == ch) {
            *sign = composed[i].sign;
            return find(composed[i].from == 1 ? 0x131 : (uint32_t)composed[i].from);
        }
    return find(ch);
}

bool letter_known(uint32_t ch)
{
    char sign;
    return taken_from(ch, &sign) != NULL;
}

double letter_advance(uint32_t ch)
{
    char sign;
    const struct letter *l = taken_from(ch, &sign);
    return l ? l->width + GAP + (sign && l->width < 2 ? 2 : 0) : 0;
}

/* ---- strokes ---------------------------------------------------------------------- */

struct spot { double x, y; bool bent; };

static double grid(char c) { return c <= '9' ? c - '0' : c - 'a' + 10; }

/* The points of the stroke at *TEXT, which goes on behind it; how many. */
static int points(const char **text, struct spot *out, int room)
{
    int n = 0;
    while (**text && **text != ' ' && n < room) {
        bool bent = **text == '~';
        *text += bent;
        out[n++] = (struct spot){grid((*text)[0]), grid((*text)[1]) - BELOW, bent};
        *text += 2;
    }
    *text += strspn(*text, " ");
    return n;
}

static void stroke(const struct spot *p, int n, double dx, double dy, letter_fn *step, void *arg)
{
    bool closed = p[0].bent;
    double x = closed ? (p[0].x + p[n - 1].x) / 2 : p[0].x, y = closed ? (p[0].y + p[n - 1].y) / 2 : p[0].y;
    double x0 = x, y0 = y;
    step(arg, LETTER_MOVE, 0, 0, x + dx, y + dy);
    for (int i = closed ? 0 : 1; i < n; i++) {
        if (!p[i].bent) {
            step(arg, LETTER_STRAIGHT, 0, 0, p[i].x + dx, p[i].y + dy);
            continue;
        }
        bool last = i + 1 == n;
        x = last ? x0 : p[i + 1].bent ? (p[i].x + p[i + 1].x) / 2 : p[i + 1].x;
        y = last ? y0 : p[i + 1].bent ? (p[i].y + p[i + 1].y) / 2 : p[i + 1].y;
        step(arg, LETTER_CURVE, p[i].x + dx, p[i].y + dy, x + dx, y + dy);
        i += !last && !p[i + 1].bent;
    }
}

static void strokes(const char *text, double dx, double dy, letter_fn *step, void *arg)
{
    struct spot at[32];
    while (*text) {
        int n = points(&text, at, COUNT_OF(at));
        if (n)
            stroke(at, n, dx, dy, step, arg);
    }
}

void letter_draw(uint32_t ch, letter_fn *step, void *arg)
{
    char sign;
    const struct letter *l = taken_from(ch, &sign);
    if (!l)
        return;
    double room = letter_advance(ch) - GAP, shift = (room - l->width) / 2;
    strokes(l->strokes, shift, 0, step, arg);
    bool tall = (l->ch >= 'A' && l->ch <= 'Z') || l->ch == 'd' || l->ch == 't',
         under = sign == ',' || sign == ';';
    for (size_t i = 0; sign && i < COUNT_OF(signs); i++)
        if (signs[i].name == sign)
            strokes(signs[i].strokes, room / 2 - 3, under ? 0 : tall ? 10 : 7, step, arg);
}
