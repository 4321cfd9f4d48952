/* The program asks the system which account runs it and on which machine. In diewright-test the system is
 * this: USER and DIEWRIGHT_HOST of the environment, so that a test may be any two people, on any two
 * machines. Linked with --wrap. */

#include <pwd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>

struct passwd *__wrap_getpwuid(uid_t uid);
int __wrap_gethostname(char *name, size_t size);

struct passwd *__wrap_getpwuid(uid_t uid)
{
    static struct passwd p;
    p.pw_uid = uid;
    p.pw_name = getenv("USER");
    return p.pw_name ? &p : NULL;
}

int __wrap_gethostname(char *name, size_t size)
{
    const char *host = getenv("DIEWRIGHT_HOST");
    snprintf(name, size, "%s", host ? host : "");
    return 0;
}
