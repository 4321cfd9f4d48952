/* One drawing, one solid, one file. */

#include "shop/inside.h"

#include <stdlib.h>

enum base_err shop_drawing(const struct shop_ask *ask, bool svg, struct base_text *out, struct base_diag *why)
{
    struct shop_title title;
    struct sheet_book book;
    struct dieset *d = job_dieset(ask->job);
    shop_title(ask->job, &title);
    enum base_err err = ask->strip ? sheet_strip(d, &title.title, &book, why)
                        : ask->plate < 0
                            ? sheet_set(d, ask->state, &title.title, &book, why)
                            : sheet_plate(d, ask->plate, ask->state, ask->datum, &title.title, &book, why);
    if (!err) {
        (svg ? draw_svg : draw_pdf)(book.at.at, (int)book.at.count, book.title, out);
        sheet_done(&book);
    }
    shop_title_done(&title);
    return err;
}

/* Its date is that of the revision that the job stands as, and none where it is not issued as it stands. */
enum base_err shop_solid(const struct shop_ask *ask, double ram, bool curves, struct base_text *out,
                         struct base_diag *why)
{
    struct shop_title title;
    struct dieset *d = job_dieset(ask->job);
    char *open = shop_open_words(ask->job);
    shop_title(ask->job, &title);
    struct solid_head head = {title.title.job, title.standing, open, title.date};
    enum base_err err = curves            ? solid_curves(d, ask->plate, ask->state, &head, out, why)
                        : ask->plate >= 0 ? solid_plate(d, ask->plate, ask->state, &head, out, why)
                                          : solid_set(d, ask->state, ram, &head, out, why);
    shop_title_done(&title);
    free(open);
    return err;
}
