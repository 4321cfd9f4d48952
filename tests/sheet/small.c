/* The small die set of the pictures' tests serves the papers too. */

#include "../view/small.c"
