/* Notes signals in one flag, the only changing global of the program: handlers have nothing else.
 */
#include "cli/interrupt.h"

#include <signal.h>
#include <string.h>

static volatile sig_atomic_t noted;

static void note(int number)
{
    noted = number;
}

static void watch(int number)
{
    struct sigaction action;
    struct sigaction before;

    // a signal that the caller had ignored (nohup, a background job) stays ignored
    if (sigaction(number, NULL, &before) == 0 && before.sa_handler == SIG_IGN) {
        return;
    }
    memset(&action, 0, sizeof action);
    action.sa_handler = note;
    // a second one ends the program at once, should the first be without effect
    action.sa_flags = (int)SA_RESETHAND;
    (void)sigemptyset(&action.sa_mask);
    (void)sigaction(number, &action, NULL);
}

void interrupt_watch(void)
{
    watch(SIGINT);
    watch(SIGTERM);
    watch(SIGHUP);
}

bool interrupt_came(void)
{
    return noted != 0;
}

int interrupt_exit_code(void)
{
    return 128 + (int)noted;
}
