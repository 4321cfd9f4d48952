/* Prints the sum of a handbook's files, given in the order of their names, for the build to write it into the
 * program: what has this sum was checked by the tests of the build and is not checked again at each start. */

#include "diewright/handbook.h"

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    const char **texts = base_alloc((size_t)argc * sizeof *texts);
    struct base_diag why = {0};
    for (int i = 1; i < argc; i++) {
        char *text;
        size_t length;
        if (base_read_file(argv[i], &text, &length, &why)) {
            fprintf(stderr, "%s\n", why.message);
            return 1;
        }
        texts[i - 1] = text;
    }
    printf("#define SHIPPED_SUM 0x%016llxull\n", (unsigned long long)handbook_sum(texts, argc - 1));
    return 0;
}
