/* The command line, run as people and scripts run it. */

#include "suites.h"

int main(void)
{
    Suite *s = suite_create("cli");
    suite_add_tcase(s, list_tests());
    suite_add_tcase(s, refusal_tests());
    suite_add_tcase(s, file_tests());
    suite_add_tcase(s, saving_tests());
    suite_add_tcase(s, edit_tests());
    suite_add_tcase(s, place_tests());
    suite_add_tcase(s, book_tests());
    suite_add_tcase(s, review_tests());
    suite_add_tcase(s, manual_tests());
    suite_add_tcase(s, practice_tests());
    suite_add_tcase(s, door_tests());
    suite_add_tcase(s, caution_tests());
    suite_add_tcase(s, paper_tests());
    suite_add_tcase(s, straight_tests());
    return run_suite(s);
}
