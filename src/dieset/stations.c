/* The strip's stations by number: what works in each, what stands there beside it. */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int dieset_station_number(const struct dieset *d, int item)
{
    double n = dieset_number(d, item, DIESET_STATION_NUMBER, DIESET_NEW);
    return isnan(n) ? 0 : (int)n;
}

bool dieset_has_number(const struct dieset *d, int item)
{
    int kind = dieset_item_kind(d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(d->h, kind);
    return k && k->frame.x && handbook_find_property(k, DIESET_STATION_NUMBER) >= 0;
}

int dieset_station_list(const struct dieset *d, int item, int *out, int room)
{
    int kind = dieset_item_kind(d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(d->h, kind);
    int p = k && k->frame.x ? handbook_find_property(k, DIESET_STATION_LIST) : -1;
    if (p < 0 || k->properties[p].type.sort != HANDBOOK_NUMBERS)
        return -1;
    int n = formula_numbers(dieset_text(d, item, DIESET_STATION_LIST), out, room);
    return n < room ? n : room;
}

static int by_number(const void *a, const void *b)
{
    const struct dieset_station *x = a, *y = b;
    return x->number != y->number ? x->number - y->number : x->item - y->item;
}

int dieset_stations(const struct dieset *d, struct dieset_station *out, int room)
{
    int count = 0, strip = dieset_item_of_kind(d, DIESET_STRIP);
    double last = dieset_number(d, strip, "stations", DIESET_NEW),
           first = dieset_number(d, strip, "first", DIESET_NEW),
           way = dieset_number(d, strip, "way", DIESET_NEW),
           pitch = dieset_number(d, strip, "pitch", DIESET_NEW);
    for (int i = 0; i < dieset_item_count(d) && count < room; i++)
        if (dieset_has_number(d, i))
            out[count++] = (struct dieset_station){.number = dieset_station_number(d, i), .item = i};
    int items = count;
    for (int n = 1; n <= last && count < room; n++) {
        bool there = false;
        for (int i = 0; i < items; i++)
            there = there || out[i].number == n;
        if (!there)
            out[count++] = (struct dieset_station){.number = n, .item = -1};
    }
    qsort(out, (size_t)count, sizeof *out, by_number);
    for (int i = 0; i < count; i++)
        out[i].x = out[i].number ? first + way * (out[i].number - 1) * pitch : NAN;
    return count;
}

bool dieset_stands_at(const struct dieset *d, int item, int number)
{
    int list[DIESET_MOST_STATIONS], n = dieset_station_list(d, item, list, DIESET_MOST_STATIONS);
    for (int i = 0; i < n; i++)
        if (list[i] == number)
            return true;
    return false;
}
