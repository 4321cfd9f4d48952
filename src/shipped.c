/* Prints the sum of a handbook's files, given in the order of their names, for the build to write it into the
 * program: what has this sum was checked by the tests of the build and is not checked again at each start. */

#include "diewright/handbook.h"

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    char **texts = base_alloc((size_t)argc * sizeof *texts);
    struct base_diag why = {0};
    size_t length;
    int n = 0;
    while (n < argc - 1 && base_read_file(argv[n + 1], &texts[n], &length, &why) == BASE_OK)
        n++;
    if (n == argc - 1)
        printf("#define SHIPPED_SUM 0x%016llxull\n",
               (unsigned long long)handbook_sum((const char *const *)texts, n));
    else
        fprintf(stderr, "%s\n", why.message);
    for (int i = 0; i < n; i++)
        free(texts[i]);
    free(texts);
    return n == argc - 1 ? 0 : 1;
}
