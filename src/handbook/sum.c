/* What tells the texts that the build was made with from all others. */

#include "diewright/handbook.h"

#include <string.h>

uint64_t handbook_sum(const char *const *texts, int n)
{
    uint64_t sum = 0;
    for (int i = 0; i < n; i++) {
        uint64_t both[2] = {sum, base_hash(texts[i], strlen(texts[i]))};
        sum = base_hash(both, sizeof both);
    }
    return sum;
}
