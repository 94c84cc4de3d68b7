/* Notes signals, in the only changing globals of the program: handlers have nothing else. */
#include "cli/interrupt.h"

#include <signal.h>
#include <string.h>
#include <time.h>

static volatile sig_atomic_t noted;
static volatile time_t noted_at;

/* Some programs send a signal to the group and to its leader, which is one to the user; a second
 * one that comes later ends the program at once, should the first be without effect. */
static const int same_signal = 1; /* s */

static void note(int number)
{
    time_t now = time(NULL);

    if (noted != 0 && now - noted_at > same_signal) {
        (void)signal(number, SIG_DFL);
        (void)raise(number);
        return;
    }
    noted_at = noted == 0 ? now : noted_at;
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
