/* The commands of the program.  Each gets its own name and what follows it as argv and returns the
 * exit code of the program; only this room prints. */
#ifndef PUMPDAY_CLI_COMMANDS_H
#define PUMPDAY_CLI_COMMANDS_H

#include <pumpday/error.h>

struct command {
    const char *name;
    const char *summary; /* one line */
    int (*run)(int argc, char **argv);
};

int cmd_check(int argc, char **argv);
int cmd_compare(int argc, char **argv);
int cmd_diagnose(int argc, char **argv);
int cmd_items(int argc, char **argv);
int cmd_new(int argc, char **argv);
int cmd_plot(int argc, char **argv);
int cmd_report(int argc, char **argv);
int cmd_settings(int argc, char **argv);
int cmd_sheet(int argc, char **argv);
int cmd_choose(int argc, char **argv);
int cmd_days(int argc, char **argv);
int cmd_sweep(int argc, char **argv);

#endif
