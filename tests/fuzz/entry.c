/* The door of a coverage-guided fuzzer to one target, TARGET of targets.h: `make fuzz`. */

#include <stdint.h>

#include "targets.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    TARGET(bytes, length);
    return 0;
}
