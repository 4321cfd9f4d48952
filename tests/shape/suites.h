#ifndef TESTS_SHAPE_SUITES_H
#define TESTS_SHAPE_SUITES_H

#include "common.h"

#include "diewright/shape.h"

#include <math.h>

#define PI 3.14159265358979323846
#define near_to(a, b) ck_assert_double_eq_tol(a, b, 1e-9)

TCase *outline_tests(void);
TCase *near_tests(void);
TCase *spot_tests(void);
TCase *kept_tests(void);
TCase *area_tests(void);

/* A polygon of N corners X, Y, as sides; the caller's array. */
static inline void polygon(const double (*at)[2], int n, struct shape_side *out)
{
    for (int i = 0; i < n; i++)
        out[i] = shape_straight(at[i][0], at[i][1], at[(i + 1) % n][0], at[(i + 1) % n][1]);
}

#endif
