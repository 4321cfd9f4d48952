/* tests/solid/solid.h - a reader of ISO 10303-21 that shares nothing with the writer, and what it judges */
#ifndef DIEWRIGHT_TESTS_SOLID_H
#define DIEWRIGHT_TESTS_SOLID_H

#include "../common.h"

#include "diewright/solid.h"

/* ---- reader.c: records and their parts (ISO 10303-21, clauses 5 to 12) ---- */

enum part_kind {
    PART_WORD,
    PART_REFERENCE,
    PART_NUMBER,
    PART_TEXT,
    PART_ENUM,
    PART_OPEN,
    PART_CLOSE,
    PART_OTHER
};
struct part { enum part_kind kind; double number; char *text; };
struct step_record { int number, first, count; }; /* of its parts, without the number */
struct step_file {
    char *header, *wrong;        /* WRONG: what breaks the format, NULL: nothing does */
    BASE_VEC(struct part) parts;
    BASE_VEC(struct step_record) records;
    BASE_VEC(int) by_number;     /* the record of a number, -1: none */
    struct base_arena memory;
};
void step_read(struct step_file *f, const char *text);
void step_done(struct step_file *f);
/* Is record NUMBER of the kind NAME? */
bool step_is(const struct step_file *f, int number, const char *name);
/* Its Ith reference or number or text (of that kind, counted from 0); the test fails where there is none. */
int step_reference(const struct step_file *f, int number, int i);
int step_references(const struct step_file *f, int number);
double step_number(const struct step_file *f, int number, int i);
const char *step_text_at(const struct step_file *f, int number, int i);
bool step_true(const struct step_file *f, int number); /* its last part is .T. */
/* The next record of the kind NAME after number AT; 0: none. */
int step_next(const struct step_file *f, const char *name, int at);

/* ---- judge.c: is it a solid? ---- */

struct vec { double x, y, z; };
struct vec step_point(const struct step_file *f, int number); /* of a point or direction */

/* What was found of one closed shell. */
struct judged {
    int faces, edges, corners, loops, through; /* THROUGH: openings from face to face */
    double volume;
    struct vec low, high; /* the box round its corners */
    char wrong[300];      /* the first thing that is wrong, "" nothing is */
};
void judge_shell(const struct step_file *f, int shell, struct judged *out);

/* A face of a cylinder or a cone. */
struct round_face { bool cone, inward; double x, y, z, radius, angle, low, high; const char *name; };
struct round_faces { BASE_VEC(struct round_face) at; };
void judge_rounds(const struct step_file *f, int shell, struct round_faces *out);

/* ---- model.c: what the job says ---- */

/* The volume of a plate by the areas and depths of its holes. */
double model_volume(struct dieset *d, int plate, enum dieset_state s);
/* Which hole of the chart has no face, or which round face is no hole's; "" when each has its own. */
void model_match(struct dieset *d, int plate, enum dieset_state s, const struct round_faces *faces,
                 struct base_text *wrong);

#endif
