/* The open job: text, edits, files, why, and the facts of the trade. */

#include "bench.h"

int main(void)
{
    Suite *s = suite_create("job");
    suite_add_tcase(s, text_tests());
    suite_add_tcase(s, edit_tests());
    suite_add_tcase(s, life_tests());
    suite_add_tcase(s, why_tests());
    suite_add_tcase(s, review_tests());
    suite_add_tcase(s, undo_tests());
    suite_add_tcase(s, beside_tests());
    suite_add_tcase(s, join_tests());
    suite_add_tcase(s, trade_tests());
    suite_add_tcase(s, sharpening_tests());
    suite_add_tcase(s, own_size_tests());
    suite_add_tcase(s, counted_tests());
    suite_add_tcase(s, station_tests());
    suite_add_tcase(s, own_thing_tests());
    suite_add_tcase(s, fuzz_tests());
    return run_suite(s);
}
