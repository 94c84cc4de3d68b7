/* Starts gnuplot as a child in the folder of the files and waits for it.  What it says goes to a
 * file, and is shown only if it failed. */
#include "output/gnuplot.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { SAID_MOST = 200 };

/* Exit code of the child if there was no gnuplot to become. */
enum { NO_PROGRAM = 127, NO_START = 126 };

/* Reads a closed file as nothing, writes what is said into the log. */
static bool redirect(const char *log)
{
    int nothing = open("/dev/null", O_RDONLY);
    int said = open(log, O_WRONLY | O_CREAT | O_TRUNC, 0666);

    return nothing >= 0 && said >= 0 && dup2(nothing, STDIN_FILENO) >= 0 &&
           dup2(said, STDOUT_FILENO) >= 0 && dup2(said, STDERR_FILENO) >= 0;
}

/* argv of execvp is not const; the words are not changed. */
union word {
    const char *shown;
    char *given;
};

static char *word(const char *text)
{
    return (union word){.shown = text}.given;
}

/* The child: never returns. */
static void become_gnuplot(const struct gnuplot_run *run)
{
    char set[64];

    (void)snprintf(set, sizeof set, "kinds = '%s'; others = %zu", run->svg_only ? "svg" : "svg png",
                   run->other_count);
    // the user's own settings of gnuplot stay out of it
    char *const words[] = {word("gnuplot"),
                           word("-d"),
                           word("-e"),
                           word(set),
                           word("-c"),
                           word(run->script),
                           word(run->out),
                           word(run->file != NULL ? run->file : ""),
                           NULL};

    (void)signal(SIGPIPE, SIG_DFL);
    if (chdir(run->folder) != 0 || !redirect(run->log) ||
        setenv("GNUPLOT_LIB", run->scripts, 1) != 0) {
        _exit(NO_START);
    }
    (void)execvp(words[0], words);
    _exit(errno == ENOENT ? NO_PROGRAM : NO_START);
}

static bool wait_for(pid_t child, int *status)
{
    while (waitpid(child, status, 0) < 0) {
        if (errno != EINTR) {
            return false;
        }
    }
    return true;
}

/* The last line of what gnuplot said that is not empty: it names script, line and fault. */
static void last_words(const struct gnuplot_run *run, char said[SAID_MOST])
{
    char path[PD_PATH_MOST];
    char line[SAID_MOST];
    int length = snprintf(path, sizeof path, "%s/%s", run->folder, run->log);
    FILE *log = length > 0 && (size_t)length < sizeof path ? fopen(path, "r") : NULL;

    (void)snprintf(said, SAID_MOST, "it said nothing");
    if (log == NULL) {
        return;
    }
    while (fgets(line, sizeof line, log) != NULL) {
        line[strcspn(line, "\r\n")] = '\0';
        if (line[strspn(line, " \t^")] != '\0') {
            pd_text_show(said, SAID_MOST, line);
        }
    }
    (void)fclose(log);
}

static bool tell_failure(const struct gnuplot_run *run, int status, bool *missing,
                         struct pd_error *error)
{
    char said[SAID_MOST];

    if (WIFEXITED(status) && WEXITSTATUS(status) == NO_PROGRAM) {
        *missing = true;
        return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL,
                            "no charts: the program gnuplot is not there. Install it (Debian: "
                            "apt-get install gnuplot-nox) and run `pumpday plot` again; the CSV "
                            "files stand");
    }
    if (WIFSIGNALED(status)) {
        return pd_error_set(error, PD_OUTPUT_FAILED, run->script, 0, NULL,
                            "gnuplot was stopped by signal %d", WTERMSIG(status));
    }
    last_words(run, said);
    return pd_error_set(error, PD_OUTPUT_FAILED, run->script, 0, NULL, "gnuplot failed: %s", said);
}

bool gnuplot_run_script(const struct gnuplot_run *run, bool *missing, struct pd_error *error)
{
    int status = 0;

    *missing = false;
    // what is waiting to be printed must not be printed by the child too
    (void)fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        become_gnuplot(run);
    }
    if (child < 0 || !wait_for(child, &status)) {
        return pd_error_set(error, PD_OUTPUT_FAILED, NULL, 0, NULL, "cannot start gnuplot: %s",
                            strerror(errno));
    }
    return (WIFEXITED(status) && WEXITSTATUS(status) == 0) ||
           tell_failure(run, status, missing, error);
}
