/* tests/tui/check_tui.c - the screens' parts that need no terminal */

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
    Suite *s = suite_create("tui");
    add_layout(s);
    add_keys(s);
    add_narrow(s);
    add_find(s);
    return run_suite(s);
}
