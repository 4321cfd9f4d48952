/* Records of ISO 10303-21 after AP214 (automotive_design). */

#include "solid/step.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- words and numbers ----------------------------------------------------------------------- */

int step_add(struct step *s, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    char *text = base_format_args(fmt, args);
    va_end(args);
    base_text_addf(s->out, "#%d=%s;\n", ++s->last, text);
    free(text);
    return s->last;
}

/* Outside of ASCII a character is written by its code, as all readers know it (ISO 10303-21, 6.4.3). */
static void add_character(struct base_text *t, uint32_t ch)
{
    if (ch > 0xffff)
        base_text_addf(t, "\\X4\\%08lX\\X0\\", (unsigned long)ch);
    else if (ch > 0x7e)
        base_text_addf(t, "\\X2\\%04lX\\X0\\", (unsigned long)ch);
    else if (ch == '\'' || ch == '\\')
        base_text_addf(t, "%c%c", (int)ch, (int)ch);
    else
        base_text_addf(t, "%c", (int)ch);
}

char *step_text(const char *text)
{
    struct base_text t = {0};
    base_text_add(&t, "'");
    while (text && *text)
        add_character(&t, base_next_char(&text));
    base_text_add(&t, "'");
    return base_text_take(&t);
}

enum { REAL = 32 };

/* Fifteen digits, with the point that the format wants. What is nothing but rounding is 0. */
static const char *real(double v, char buf[REAL])
{
    if (fabs(v) < 1e-13)
        return "0.";
    snprintf(buf, REAL, "%.15g", v);
    char *exponent = strchr(buf, 'e');
    if (exponent)
        *exponent = 'E';
    if (strchr(buf, '.'))
        return buf;
    size_t n = strlen(buf), at = exponent ? (size_t)(exponent - buf) : n;
    memmove(buf + at + 1, buf + at, n - at + 1);
    buf[at] = '.';
    return buf;
}

static int triple(struct step *s, const char *what, struct body_corner c)
{
    char x[REAL], y[REAL], z[REAL];
    return step_add(s, "%s('',(%s,%s,%s))", what, real(c.x, x), real(c.y, y), real(c.z, z));
}
static int point(struct step *s, struct body_corner c) { return triple(s, "CARTESIAN_POINT", c); }
static int direction(struct step *s, struct body_corner c) { return triple(s, "DIRECTION", c); }

int step_axes(struct step *s, double x, double y, double z)
{
    int at = point(s, (struct body_corner){x, y, z});
    return step_add(s, "AXIS2_PLACEMENT_3D('',#%d,#%d,#%d)", at, s->up, s->along);
}

/* ---- head ------------------------------------------------------------------------------------ */

static void add_head(const struct solid_head *head, const char *what, struct base_text *out)
{
    char *job = step_text(head->job), *issued = step_text(head->issued), *kind = step_text(what);
    char *open = step_text(head->open), *date = step_text(head->date);
    base_text_addf(out, "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((%s,%s%s%s),'2;1');\n", kind, issued,
                   head->open ? "," : "", head->open ? open : "");
    base_text_addf(out, "FILE_NAME(%s,%s,(''),(''),'diewright %s','diewright','');\n", job, date,
                   DIEWRIGHT_VERSION);
    base_text_add(out, "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 3 1 1 }'));\nENDSEC;\nDATA;\n");
    char *all[] = {job, issued, kind, open, date};
    for (size_t i = 0; i < COUNT_OF(all); i++)
        free(all[i]);
}

static int add_context(struct step *s)
{
    int mm = step_add(s, "(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
    int rad = step_add(s, "(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
    int sr = step_add(s, "(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
    int near = step_add(s, "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-06),#%d,"
                           "'distance_accuracy_value','confusion accuracy')", mm);
    return step_add(s, "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#%d))"
                       "GLOBAL_UNIT_ASSIGNED_CONTEXT((#%d,#%d,#%d))REPRESENTATION_CONTEXT('',''))",
                    near, mm, rad, sr);
}

void step_begin(struct step *s, const struct solid_head *head, const char *what, struct base_text *out)
{
    *s = (struct step){.out = out};
    add_head(head, what, out);
    s->application = step_add(s, "APPLICATION_CONTEXT("
                                 "'core data for automotive mechanical design processes')");
    step_add(s, "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#%d)",
             s->application);
    s->part = step_add(s, "PRODUCT_CONTEXT('',#%d,'mechanical')", s->application);
    s->part_view = step_add(s, "PRODUCT_DEFINITION_CONTEXT('part definition',#%d,'design')", s->application);
    s->context = add_context(s);
    s->up = direction(s, (struct body_corner){0, 0, 1});
    s->along = direction(s, (struct body_corner){1, 0, 0});
}

void step_end(struct step *s) { base_text_add(s->out, "ENDSEC;\nEND-ISO-10303-21;\n"); }

/* ---- shapes ---------------------------------------------------------------------------------- */

static int straight_curve(struct step *s, struct body_corner p, struct body_corner q, int at)
{
    double x = q.x - p.x, y = q.y - p.y, z = q.z - p.z, length = sqrt(x * x + y * y + z * z);
    int dir = direction(s, (struct body_corner){x / length, y / length, z / length});
    int vector = step_add(s, "VECTOR('',#%d,1.)", dir);
    return step_add(s, "LINE('',#%d,#%d)", at, vector);
}

static int conic_curve(struct step *s, const struct body_edge *e, int from, int to)
{
    char weight[REAL];
    int pole = point(s, e->pole);
    return step_add(s,
                    "(BOUNDED_CURVE()B_SPLINE_CURVE(2,(#%d,#%d,#%d),.UNSPECIFIED.,.F.,.F.)"
                    "B_SPLINE_CURVE_WITH_KNOTS((3,3),(0.,1.),.UNSPECIFIED.)CURVE()"
                    "GEOMETRIC_REPRESENTATION_ITEM()RATIONAL_B_SPLINE_CURVE((1.,%s,1.))"
                    "REPRESENTATION_ITEM(''))",
                    from, pole, to, real(e->weight, weight));
}

/* Records of the points and vertices of all corners, and of the edges. */
struct numbers { int *points, *vertices, *edges; };

static int edge(struct step *s, const struct body *b, const struct body_edge *e, const struct numbers *n)
{
    struct body_corner p = b->corners.at[e->from], q = b->corners.at[e->to];
    char radius[REAL];
    int curve;
    if (e->curve == BODY_STRAIGHT)
        curve = straight_curve(s, p, q, n->points[e->from]);
    else if (e->curve == BODY_CONIC)
        curve = conic_curve(s, e, n->points[e->from], n->points[e->to]);
    else
        curve = step_add(s, "CIRCLE('',#%d,%s)", step_axes(s, e->cx, e->cy, p.z), real(e->radius, radius));
    return step_add(s, "EDGE_CURVE('',#%d,#%d,#%d,.T.)", n->vertices[e->from], n->vertices[e->to], curve);
}

static int surface(struct step *s, const struct body_face *f)
{
    char radius[REAL], angle[REAL];
    if (f->surface == BODY_CYLINDER)
        return step_add(s, "CYLINDRICAL_SURFACE('',#%d,%s)", step_axes(s, f->at.x, f->at.y, f->at.z),
                        real(f->radius, radius));
    double level = hypot(f->normal.x, f->normal.y);
    struct body_corner square = {f->normal.y / level, -f->normal.x / level, 0};
    int at = point(s, f->at), up = direction(s, f->normal);
    int along = level < 1e-12 ? s->along : direction(s, square);
    int axes = step_add(s, "AXIS2_PLACEMENT_3D('',#%d,#%d,#%d)", at, up, along);
    if (f->surface == BODY_CONE)
        return step_add(s, "CONICAL_SURFACE('',#%d,%s,%s)", axes, real(f->radius, radius),
                        real(f->angle, angle));
    return step_add(s, "PLANE('',#%d)", axes);
}

static int bound(struct step *s, const struct body *b, const struct body_loop *l, bool outer,
                 const struct numbers *n)
{
    struct base_text list = {0};
    for (int i = 0; i < l->count; i++) {
        struct body_use u = b->uses.at[l->first + i];
        int use = step_add(s, "ORIENTED_EDGE('',*,*,#%d,.%c.)", n->edges[u.edge], u.forward ? 'T' : 'F');
        base_text_addf(&list, "%s#%d", i ? "," : "", use);
    }
    int loop = step_add(s, "EDGE_LOOP('',(%s))", base_text_get(&list));
    base_text_done(&list);
    return step_add(s, "%s('',#%d,.T.)", outer ? "FACE_OUTER_BOUND" : "FACE_BOUND", loop);
}

static int face(struct step *s, const struct body *b, const struct body_face *f, const struct numbers *n)
{
    struct base_text list = {0};
    for (int i = 0; i < f->count; i++)
        base_text_addf(&list, "%s#%d", i ? "," : "", bound(s, b, &b->loops.at[f->first + i], i == 0, n));
    char *name = step_text(f->name);
    int on = surface(s, f);
    int number = step_add(s, "ADVANCED_FACE(%s,(%s),#%d,.%c.)", name, base_text_get(&list), on,
                          f->inward ? 'F' : 'T');
    free(name);
    base_text_done(&list);
    return number;
}

static int shell(struct step *s, const struct body *b)
{
    struct base_text list = {0};
    struct numbers n = {base_alloc((b->corners.count + 1) * sizeof(int)),
                        base_alloc((b->corners.count + 1) * sizeof(int)),
                        base_alloc((b->edges.count + 1) * sizeof(int))};
    for (size_t i = 0; i < b->corners.count; i++) {
        n.points[i] = point(s, b->corners.at[i]);
        n.vertices[i] = step_add(s, "VERTEX_POINT('',#%d)", n.points[i]);
    }
    for (size_t i = 0; i < b->edges.count; i++)
        n.edges[i] = edge(s, b, &b->edges.at[i], &n);
    for (size_t i = 0; i < b->faces.count; i++)
        base_text_addf(&list, "%s#%d", i ? "," : "", face(s, b, &b->faces.at[i], &n));
    int number = step_add(s, "CLOSED_SHELL('',(%s))", base_text_get(&list));
    base_text_done(&list);
    free(n.points);
    free(n.vertices);
    free(n.edges);
    return number;
}

/* ---- products -------------------------------------------------------------------------------- */

static struct step_product product(struct step *s, const char *name, const char *title)
{
    struct step_product out = {0};
    char *id = step_text(name), *words = step_text(title);
    int number = step_add(s, "PRODUCT(%s,%s,'',(#%d))", id, words, s->part);
    step_add(s, "PRODUCT_RELATED_PRODUCT_CATEGORY('part','',(#%d))", number);
    int formation = step_add(s, "PRODUCT_DEFINITION_FORMATION('','',#%d)", number);
    out.definition = step_add(s, "PRODUCT_DEFINITION('design','',#%d,#%d)", formation, s->part_view);
    free(id);
    free(words);
    return out;
}

static void shape_is(struct step *s, struct step_product p)
{
    int shape = step_add(s, "PRODUCT_DEFINITION_SHAPE('','',#%d)", p.definition);
    step_add(s, "SHAPE_DEFINITION_REPRESENTATION(#%d,#%d)", shape, p.shape);
}

struct step_product step_solid(struct step *s, const struct body *b, const char *name, const char *title)
{
    struct step_product out = product(s, name, title);
    char *words = step_text(title);
    int solid = step_add(s, "MANIFOLD_SOLID_BREP(%s,#%d)", words, shell(s, b));
    out.axes = step_axes(s, 0, 0, 0);
    out.shape = step_add(s, "ADVANCED_BREP_SHAPE_REPRESENTATION(%s,(#%d,#%d),#%d)", words, out.axes, solid,
                         s->context);
    shape_is(s, out);
    free(words);
    return out;
}

struct step_product step_assembly(struct step *s, const char *name, const char *title, const int *places,
                                  int n)
{
    struct step_product out = product(s, name, title);
    struct base_text list = {0};
    char *words = step_text(title);
    out.axes = step_axes(s, 0, 0, 0);
    for (int i = 0; i < n; i++)
        base_text_addf(&list, ",#%d", places[i]);
    out.shape = step_add(s, "SHAPE_REPRESENTATION(%s,(#%d%s),#%d)", words, out.axes, base_text_get(&list),
                         s->context);
    shape_is(s, out);
    base_text_done(&list);
    free(words);
    return out;
}

void step_place(struct step *s, struct step_product parent, struct step_product child, int place,
                const char *name)
{
    char *words = step_text(name);
    int use = step_add(s, "NEXT_ASSEMBLY_USAGE_OCCURRENCE(%s,%s,'',#%d,#%d,$)", words, words,
                       parent.definition, child.definition);
    int shape = step_add(s, "PRODUCT_DEFINITION_SHAPE('','',#%d)", use);
    int moved = step_add(s, "ITEM_DEFINED_TRANSFORMATION('','',#%d,#%d)", child.axes, place);
    int related = step_add(s,
                           "(REPRESENTATION_RELATIONSHIP('','',#%d,#%d)"
                           "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#%d)"
                           "SHAPE_REPRESENTATION_RELATIONSHIP())",
                           child.shape, parent.shape, moved);
    step_add(s, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#%d,#%d)", related, shape);
    free(words);
}
