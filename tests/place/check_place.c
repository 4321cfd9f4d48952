/* tests/place/check_place.c - laying out as a room of the trade: numbers and sentences, without a screen */

#include "parts.h"

#include "../common.h"

int main(void)
{
    Suite *s = suite_create("place");
    add_laying(s);
    add_asks(s);
    return run_suite(s);
}
