/* Bodies of faces, edges and corners. */

#include "solid/body.h"

#include <stdlib.h>

void body_done(struct body *b)
{
    base_vec_done(&b->corners);
    base_vec_done(&b->edges);
    base_vec_done(&b->uses);
    base_vec_done(&b->loops);
    base_vec_done(&b->faces);
}

int body_corner(struct body *b, double x, double y, double z)
{
    base_vec_push(&b->corners, ((struct body_corner){x, y, z}));
    return (int)b->corners.count - 1;
}

static int add_edge(struct body *b, struct body_edge e)
{
    base_vec_push(&b->edges, e);
    return (int)b->edges.count - 1;
}

int body_straight(struct body *b, int from, int to)
{
    return add_edge(b, (struct body_edge){.from = from, .to = to, .curve = BODY_STRAIGHT});
}

int body_circle(struct body *b, int corner, double cx, double cy, double radius)
{
    return add_edge(b, (struct body_edge){.from = corner, .to = corner, .curve = BODY_ROUND,
                                          .cx = cx, .cy = cy, .radius = radius});
}

struct body_use body_side(struct body *b, int from, int to, const struct shape_side *s)
{
    if (!(s->radius > 0))
        return (struct body_use){body_straight(b, from, to), true};
    bool forward = s->way > 0; /* a clockwise arc is the anticlockwise one, gone backwards */
    struct body_edge e = {.from = forward ? from : to, .to = forward ? to : from, .curve = BODY_ROUND,
                          .cx = s->cx, .cy = s->cy, .radius = s->radius};
    return (struct body_use){add_edge(b, e), forward};
}

void body_face(struct body *b, struct body_face face)
{
    face.first = (int)b->loops.count;
    face.count = 0;
    base_vec_push(&b->faces, face);
}

void body_loop(struct body *b)
{
    base_vec_push(&b->loops, ((struct body_loop){(int)b->uses.count, 0}));
    b->faces.at[b->faces.count - 1].count++;
}

void body_use(struct body *b, int edge, bool forward)
{
    base_vec_push(&b->uses, ((struct body_use){edge, forward}));
    b->loops.at[b->loops.count - 1].count++;
}

void body_uses(struct body *b, const struct body_use *uses, int n, bool forward)
{
    for (int i = 0; i < n; i++) {
        struct body_use u = uses[forward ? i : n - 1 - i];
        body_use(b, u.edge, u.forward == forward);
    }
}

int body_begins(const struct body *b, struct body_use use)
{
    const struct body_edge *e = &b->edges.at[use.edge];
    return use.forward ? e->from : e->to;
}

int body_ends(const struct body *b, struct body_use use)
{
    return body_begins(b, (struct body_use){use.edge, !use.forward});
}
