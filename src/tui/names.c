/* tui/names.c - all that there is by name: views, actions, and the paper of keys for the manual
 *
 * The one file that knows them all. What a key does stands in keys.c, what a word of the ":" row does in
 * command.c; both say it by a name of these tables.
 */

#include "tui/open.h"

#include "diewright/tui.h"
#include "tui/act.h"
#include "tui/command.h"
#include "tui/keys.h"
#include "tui/settings.h"
#include "tui/views.h"

static const struct opener views[] = {
    {"begin", begin_open},
    {"command", command_open},
    {"compare", compare_open},
    {"exercise", exercise_open},
    {"finding", detail_open},
    {"group", group_open},
    {"join", join_open},
    {"learnt", learnt_open},
    {"practice", lessons_open},
    {"review", review_open},
    {"sizes", sizes_open},
    {"tolerance", tolerance_open},
    {"vary", vary_open},
    {"why", why_open},
    {"words", words_open},
};

static const struct action actions[] = {
    {"up", act_up},
    {"down", act_down},
    {"left", act_left},
    {"right", act_right},
    {"page-up", act_page_up},
    {"page-down", act_page_down},
    {"first", act_first},
    {"last", act_last},
    {"enter", act_enter},
    {"leave", act_leave},
    {"narrow", act_narrow},
    {"next", act_next},
    {"previous", act_previous},
    {"show-form", act_show_form},
    {"show-plan", act_show_plan},
    {"show-section", act_show_section},
    {"zoom", act_zoom},
    {"state", act_state},
    {"all", act_all},
    {"stroke", act_stroke},
    {"compare", act_compare},
    {"review", act_review},
    {"review-next", act_review_next},
    {"differences", act_differences},
    {"remark", act_remark},
    {"waive", act_waive},
    {"issue", act_issue},
    {"take-back", act_take_back},
    {"done", act_done},
    {"mine", act_mine},
    {"theirs", act_theirs},
    {"vary", act_vary},
    {"finer", act_finer},
    {"wider", act_wider},
    {"listed", act_listed},
    {"beside", act_beside},
    {"glide", act_glide},
    {"why", act_why},
    {"sizes", act_sizes},
    {"detail", act_detail},
    {"hint", act_hint},
    {"try", act_try},
    {"mend", act_mend},
    {"moves", act_moves},
    {"moved", act_moved},
    {"cautions", act_cautions},
    {"unjudged", act_unjudged},
    {"search", act_search},
    {"search-next", act_search_next},
    {"search-last", act_search_last},
    {"command", act_command},
    {"help", act_help},
    {"small-help", act_small_help},
    {"undo", act_undo},
    {"redo", act_redo},
    {"back", act_back},
    {"forward", act_forward},
    {"unset", act_unset},
    {"mark", act_mark},
    {"repeat", act_repeat},
    {"station", act_station},
    {"turn-15", act_turn_little},
    {"turn-45", act_turn_half},
    {"clip", act_clip},
    {"keep", act_keep},
    {"formula", act_formula},
    {"type-here", act_type_here},
    {"add", act_add},
    {"like", act_like},
    {"remove", act_remove},
    {"larger", act_larger},
    {"smaller", act_smaller},
    {"fit", act_fit},
    {"far-left", act_far_left},
    {"far-right", act_far_right},
    {"far-up", act_far_up},
    {"far-down", act_far_down},
    {"place", act_place},
    {"free", act_free},
    {"turn", act_turn},
    {"exact", act_exact},
    {"new-group", act_new_group},
    {"below", act_below},
    {"turn-over", act_turn_over},
    {"click", act_click},
    {"wheel-up", act_wheel_up},
    {"wheel-down", act_wheel_down},
    {"mouse", act_mouse},
    {"repaint", act_repaint},
    {"suspend", act_suspend},
    {"quit", act_quit},
};

const struct names tui_names = {views, COUNT_OF(views), actions, COUNT_OF(actions)};

void tui_keys(const char *settings, struct base_text *out, struct base_text *complaints)
{
    int n;
    short colours[PAINT_OWN];
    settings_read(settings, colours, complaints);
    const struct key_row *keys = keys_table(&n);
    for (int i = 0; i < n; i++) {
        keys_labels(&keys[i], out);
        base_text_add(out, "\t");
        keys_places(keys[i].places, out);
        base_text_addf(out, "\t%s\t%s\n", keys[i].name, keys[i].help);
    }
    const struct command *commands = command_table(&n);
    for (int i = 0; i < n; i++)
        base_text_addf(out, ":%s%s%s\teverywhere\t%s\t%s\n", commands[i].name, *commands[i].usage ? " " : "",
                       commands[i].usage, commands[i].name, commands[i].help);
}
