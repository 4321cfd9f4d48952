/* tests/terminal/check_terminal.c - painting and typing, on a screen that is nowhere */

#include "parts.h"

#include "../common.h"

/* The curses libraries keep some memory for good; asked for by the leak sanitizer when there is one. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:libpanel\nleak:libform\nleak:libmenu\nleak:libncurses\nleak:libtinfo\n";
}

int main(void)
{
    Suite *s = suite_create("terminal");
    add_paint(s);
    add_field(s);
    return run_suite(s);
}
