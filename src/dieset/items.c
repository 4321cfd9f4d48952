/* A die set as it stands: items, entries, points, the stack. */

#include "dieset/build.h"

#include <math.h>
#include <string.h>

const struct handbook *dieset_handbook(const struct dieset *d) { return d->h; }
struct model *dieset_model(struct dieset *d) { return d->now->model; }
void dieset_use_tables(struct dieset *d, struct table_set *tables) { d->tables = tables; }
struct table_set *dieset_tables(struct dieset *d) { return d->now->tables; }
struct unit_system dieset_system(const struct dieset *d) { return d->now->system; }
long dieset_binding(const struct dieset *d) { return d->binding; }

/* ---- items and entries ------------------------------------------------------------------------------- */

int dieset_item_count(const struct dieset *d) { return (int)d->now->items.count; }

int dieset_find_item(const struct dieset *d, const char *name)
{
    int i;
    return base_map_get(&d->now->item_names, name, &i) ? i : -1;
}

const char *dieset_item_name(const struct dieset *d, int item) { return d->now->items.at[item].name; }

const char *dieset_item_title(const struct dieset *d, int item)
{
    return item >= 0 && item < (int)d->now->items.count ? d->now->items.at[item].title : "";
}

int dieset_item_kind(const struct dieset *d, int item) { return d->now->items.at[item].kind; }

bool dieset_item_words(const struct dieset *d, int item)
{
    int kind = dieset_item_kind(d, item);
    return kind >= 0 && handbook_kind(d->h, kind)->n_words > 0;
}

int dieset_items_of_kind(const struct dieset *d, int kind, const int **items)
{
    bool any = kind >= 0 && d->now->rows;
    *items = any ? d->now->rows[kind].items.at : NULL;
    return any ? (int)d->now->rows[kind].items.count : 0;
}

int dieset_item_of_kind(const struct dieset *d, const char *kind)
{
    int k;
    if (!base_map_get(&d->kinds, kind, &k) || !d->now->rows[k].items.count)
        return -1;
    return d->now->rows[k].items.at[0];
}

const char *dieset_entry(const struct dieset *d, int item, const char *path)
{
    return texts_entry(&d->now->texts.items.at[item], path);
}

int dieset_entries(const struct dieset *d, int item, const struct typed_entry **entries)
{
    *entries = d->now->items.at[item].entries;
    return d->now->items.at[item].n_entries;
}

/* ---- points -------------------------------------------------------------------------------------------- */

int dieset_point_count(const struct dieset *d, int item)
{
    return d->now->items.at[item].kind < 0 ? 0 : item_points(d->now, item)->n_points;
}

int dieset_points_owner(const struct dieset *d, int item)
{
    return d->now->items.at[item].kind < 0 ? item : (int)(item_points(d->now, item) - d->now->items.at);
}

void dieset_point(const struct dieset *d, int item, int point, struct dieset_point *out)
{
    const struct point *p = &item_points(d->now, item)->points[point];
    double at[] = {cell_amount(d->now, p->x, DIESET_NEW), cell_amount(d->now, p->y, DIESET_NEW),
                   cell_amount(d->now, p->turn, DIESET_NEW)};
    *out = (struct dieset_point){.name = p->name, .x = at[0], .y = at[1], .turn = at[2], .freed = p->freed};
    out->broken = isnan(at[0]) || isnan(at[1]) || isnan(at[2]);
    if (out->broken)
        out->x = isnan(at[0]) ? 0 : at[0], out->y = isnan(at[1]) ? 0 : at[1],
        out->turn = isnan(at[2]) ? 0 : at[2];
}

int dieset_point_part(const struct dieset *d, int q, const char *name)
{
    const struct build *b = d->now;
    const struct cell *c = b->quantity_cells[q];
    const struct item *it = c->item < 0 || c->point < 0 ? NULL : &b->items.at[c->item];
    if (!it || !it->framed || c->point >= it->n_points)
        return -1;
    const struct point *p = &it->points[c->point];
    const struct point_frame *f = &it->frames[p->frame];
    const struct { const char *name; const struct cell *cell;
    } parts[] = {{"frame_x", f->x}, {"frame_y", f->y}, {"frame_turn", f->turn}, {"place_x", p->place_x},
                 {"place_y", p->place_y}};
    for (size_t i = 0; i < COUNT_OF(parts); i++)
        if (strcmp(parts[i].name, name) == 0 && parts[i].cell)
            return parts[i].cell->slot[0];
    return -1;
}

/* ---- stack --------------------------------------------------------------------------------------------- */

int dieset_stack(const struct dieset *d, enum dieset_state s, struct dieset_layer *out, int room)
{
    const struct build *b = d->now;
    const struct contract *k = &d->contract;
    const struct rows *plates = &b->rows[k->plate];
    int n = 0;
    for (size_t i = 0; i < plates->items.count && n < room; i++) {
        struct cell *const *p = b->items.at[plates->items.at[i]].properties;
        out[n++] = (struct dieset_layer){plates->items.at[i], cell_amount(b, p[k->bottom], s),
                                         cell_amount(b, p[k->top], s),
                                         cell_amount(b, p[k->thickness_now], s)};
    }
    return n;
}
