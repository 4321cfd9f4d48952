/* All words that may stand below records, for the manual and for tests that hold it to them. */

#include "handbook/book.h"

static const struct book_vocabulary *const vocabularies[] = {
    &book_work_words,    &book_factor_words,        &book_function_words, &book_takes_words,
    &book_pattern_words, &book_pattern_takes_words, &book_point_words,    &book_table_words,
    &book_kind_words,    &book_property_words,      &book_outline_words,  &book_frame_words,
    &book_hole_words,    &book_body_words,
    &book_order_words,   &book_event_words,         &book_motion_words,   &book_rule_words,
    &book_rung_words,    &book_example_words,       &book_try_words,      &book_word_words,
    &book_unjudged_words,
    &book_caution_words, &book_differ_words,        &book_cut_words,      &book_paper_words,
    &book_paper_column_words, &book_paper_row_words,    &book_fold_words,
    &book_chain_words,   &book_link_words,
};

const char *handbook_vocabulary(int record, int word, bool *several)
{
    if (record < 0 || record >= (int)COUNT_OF(vocabularies) || word >= vocabularies[record]->n)
        return NULL;
    if (several)
        *several = word >= 0 && vocabularies[record]->words[word].several;
    return word < 0 ? vocabularies[record]->record : vocabularies[record]->words[word].word;
}
