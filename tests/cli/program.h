/* Runs the built program by the shell, as a user would, in a folder of the test's own. */
#ifndef PUMPDAY_TESTS_PROGRAM_H
#define PUMPDAY_TESTS_PROGRAM_H

#include <stdbool.h>

/* Makes the folder and a template scenario in it; takes both away. */
void program_begin(void);
void program_end(void);

/* Runs a line in which `$P` is the program, `$S` the scenario and `$T` the folder.  True if it ends
 * with a code and what it wrote, standard error included, holds the words; else shows both. */
bool program_ends(const char *line, int code, const char *words);

#endif
