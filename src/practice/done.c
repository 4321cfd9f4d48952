/* Which guides and practice jobs were done: a line each, added at the end of a file of the person's own. */

#include "diewright/practice.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char *file_of(const char *state) { return base_format("%s/diewright/practice", state); }

void practice_done_read(const char *state, struct base_map *out)
{
    char *path = state ? file_of(state) : NULL, *text = NULL;
    size_t length;
    if (path && base_read_file(path, &text, &length, NULL) == BASE_OK)
        for (char *rest = text, *line; (line = strtok_r(rest, "\n", &rest));)
            if (strncmp(line, "done ", 5) == 0)
                base_map_put(out, line + 5, 1);
    free(text);
    free(path);
}

/* Written in one piece behind what is there: two programs that end one at the same time keep both. */
void practice_done_add(const char *state, const char *name)
{
    struct base_map known = {0};
    practice_done_read(state, &known);
    bool again = base_map_get(&known, name, NULL);
    base_map_done(&known);
    if (!state || again)
        return;
    char *folder = base_format("%s/diewright", state), *path = file_of(state),
         *line = base_format("done %s\n", name);
    mkdir(state, 0700);
    mkdir(folder, 0700);
    int f = open(path, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    if (f >= 0) {
        ssize_t written = write(f, line, strlen(line));
        (void)written; /* what is not kept is not kept */
        close(f);
    }
    free(line);
    free(path);
    free(folder);
}
