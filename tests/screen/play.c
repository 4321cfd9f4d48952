#include "play.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static const struct { const char *label; VTermKey key;
} known[] = {
    {"Enter", VTERM_KEY_ENTER},   {"Esc", VTERM_KEY_ESCAPE},
    {"Tab", VTERM_KEY_TAB},       {"Up", VTERM_KEY_UP},
    {"Down", VTERM_KEY_DOWN},     {"Left", VTERM_KEY_LEFT},
    {"Right", VTERM_KEY_RIGHT},   {"PgUp", VTERM_KEY_PAGEUP},
    {"PgDn", VTERM_KEY_PAGEDOWN}, {"Home", VTERM_KEY_HOME},
    {"End", VTERM_KEY_END},       {"Del", VTERM_KEY_DEL},
    {"Ins", VTERM_KEY_INS},       {"Backspace", VTERM_KEY_BACKSPACE},
};

void bed_named(struct bed *b, const char *label)
{
    for (size_t i = 0; i < COUNT_OF(known); i++)
        if (strcmp(known[i].label, label) == 0) {
            bed_key(b, known[i].key);
            return;
        }
    if (strcmp(label, "Shift-Tab") == 0)
        bed_type(b, "\033[Z");
    else if (strcmp(label, "letters") == 0)
        bed_type(b, "s");
    else if (strcmp(label, "figures") == 0)
        bed_type(b, "7");
    else if (strcmp(label, "click") == 0)
        bed_click(b, 5, 12);
    else if (strncmp(label, "wheel-", 6) == 0)
        bed_wheel(b, 5, 12, strcmp(label, "wheel-up") == 0 ? -1 : 1);
    else if (strcmp(label, "Space") == 0)
        bed_type(b, " ");
    else if (strncmp(label, "Ctrl-", 5) == 0 && label[6] == '\0')
        bed_control(b, label[5]);
    else if (label[0] == 'F' && isdigit((unsigned char)label[1]))
        bed_key(b, VTERM_KEY_FUNCTION(atoi(label + 1)));
    else if (label[0] && (label[1] == '\0' || (unsigned char)label[0] >= 0x80))
        bed_type(b, label);
    else
        ck_abort_msg("there is a key \"%s\": tell tests/screen how it is pressed", label);
}

void play_keys(struct bed *b, const char *line)
{
    for (const char *at = line; *at; at += strspn(at, " ")) {
        bool quoted = *at == '"';
        size_t n = strcspn(at + quoted, quoted ? "\"" : " ");
        char *word = base_copy_n(at + quoted, n);
        if (quoted)
            bed_type(b, word);
        else
            bed_named(b, word);
        /* What follows at once would make it another key. The first rest may end while the program sleeps to
           see whether more comes (25 ms); by the end of the second it has been woken from that. */
        for (int rest = 0; rest < 2 && strcmp(word, "Esc") == 0; rest++)
            bed_settle(b, 30);
        free(word);
        at += n + 2 * (size_t)quoted;
    }
    bed_settle(b, PLAY_RESTED_MS);
}

void play_fix_clock(char *row)
{
    static const struct {
        const char *like, *fixed;
    } clocks[] = {{"####-##-##", "2026-01-02"}, {" ##:## ", " 12:34 "}};
    for (size_t i = 0; i < COUNT_OF(clocks); i++) {
        size_t n = strlen(clocks[i].like), k;
        for (char *at = row; *at; at++) {
            for (k = 0; k < n && (clocks[i].like[k] == '#' ? isdigit((unsigned char)at[k])
                                                           : at[k] == clocks[i].like[k]);
                 k++)
                continue;
            if (k == n)
                memcpy(at, clocks[i].fixed, n);
        }
    }
}

const char *play_row(struct bed *b, int row)
{
    static char text[2048];
    snprintf(text, sizeof text, "%s", bed_row(b, row));
    play_fix_clock(text);
    return text;
}
