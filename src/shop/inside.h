/* shop/inside.h - what the files of this room share */
#ifndef DIEWRIGHT_SHOP_INSIDE_H
#define DIEWRIGHT_SHOP_INSIDE_H

#include "diewright/shop.h"

/* ---- title.c ---- */
/* What sheets tell of a job; the texts are held here. */
struct shop_title {
    struct sheet_title title;
    char *number, *standing, *sums, *date;
};
void shop_title(struct job *j, struct shop_title *out);
void shop_title_done(struct shop_title *t);

/* ---- files.c ---- */
struct shop_file {
    char *path;
    struct base_text text;
};
struct shop_files {
    BASE_VEC(struct shop_file) at;
};
struct base_text *shop_file(struct shop_files *f,
                            char *path);                   /* PATH is F's from now on; till the next one */
const char *shop_files_differ(const struct shop_files *f); /* one with other bytes on the disk, NULL: none */
/* Into FOLDER, which is made where there is none. A file is whole, or as it was. */
NODISCARD enum base_err shop_files_write(const struct shop_files *f, const char *folder,
                                         struct base_diag *why);
void shop_files_done(struct shop_files *f);

#endif
