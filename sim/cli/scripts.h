/* Where the scripts of the charts stand. */
#ifndef PUMPDAY_CLI_SCRIPTS_H
#define PUMPDAY_CLI_SCRIPTS_H

#include <pumpday/error.h>

/* The folder given on the command line, or that of the environment's PUMPDAY_PLOTS, or the one of
 * the source tree or the installation that the program itself stands in.  False if there is none;
 * the message tells where it looked. */
bool scripts_find(const char *given, char folder[PD_PATH_MOST], struct pd_error *error);

#endif
