/* Ctrl-C and a request to end: noted, so that a command can end in its own way and clean up. */
#ifndef PUMPDAY_CLI_INTERRUPT_H
#define PUMPDAY_CLI_INTERRUPT_H

#include <stdbool.h>

/* From now on SIGINT, SIGTERM and SIGHUP are noted and do not end the program. */
void interrupt_watch(void);

/* True once one of them came. */
bool interrupt_came(void);

/* Exit code of a program ended by that signal: 128 and its number. */
int interrupt_exit_code(void);

#endif
