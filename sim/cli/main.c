/* The program: finds the command, runs it, and makes sure that what it printed has arrived. */
#include "cli/commands.h"

#include "base/text.h"
#include "studies/days_serve.h"
#include "studies/ranks.h"

#include <pumpday/pumpday.h>

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>

static const struct command commands[] = {
    {"compare", "simulate a day under each strategy and put them side by side", cmd_compare},
    {"days", "draw days of a household: how many fail, and how sure that is", cmd_days},
    {"choose", "find the pump, tank and strategy on offer that cost least over the years",
     cmd_choose},
    {"sweep", "simulate many days: every combination of some items' values", cmd_sweep},
    {"check", "check an installation against codes, motor tables and practice", cmd_check},
    {"settings", "find what to set for each strategy, and the smallest tank", cmd_settings},
    {"sheet", "write a commissioning sheet to print and take along", cmd_sheet},
    {"diagnose", "rank the likely faults by what is seen on site", cmd_diagnose},
    {"plot", "draw the files of a folder of results as SVG and PNG", cmd_plot},
    {"report", "write a page for the client", cmd_report},
    {"new", "write a commented scenario to start from", cmd_new},
    {"items", "list the items of site.csv with units, limits and defaults", cmd_items},
};

enum { COMMAND_COUNT = sizeof commands / sizeof commands[0], SHOWN_MOST = 80 };

static void print_usage(FILE *stream)
{
    (void)fputs("usage: pumpday COMMAND [ARGUMENT]...\n\n"
                "Simulates a small water pressure booster through a day.\n\n",
                stream);
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        (void)fprintf(stream, "  %-10s%s\n", commands[i].name, commands[i].summary);
    }
    (void)fputs(
        "\n  help      this text; `pumpday help COMMAND` tells about a command, as its --help\n"
        "  --version the version\n\n"
        "exit codes: 0 done, 1 a verdict fails where one is asked for, 2 usage, 3 input,\n"
        "4 solver, 5 output, 130 interrupted\n\n"
        "example:\n  pumpday compare scenarios/hillside-house -o out/hillside\n",
        stream);
}

/* With standard streams closed, a result file would get their numbers and their text. */
static void fill_standard_streams(void)
{
    for (int descriptor = 0; descriptor <= 2; descriptor++) {
        if (fcntl(descriptor, F_GETFD) == -1 && errno == EBADF) {
            // the lowest free number is this one; opened for reading, a write to it fails
            (void)open("/dev/null", O_RDONLY);
        }
    }
}

static const struct command *find_command(const char *name)
{
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(name, commands[i].name) == 0) {
            return &commands[i];
        }
    }
    return NULL;
}

static int tell_unknown(const char *name)
{
    char shown[SHOWN_MOST];

    pd_text_show(shown, sizeof shown, name);
    (void)fprintf(stderr, "pumpday: unknown %s \"%s\"\nsee `pumpday --help`\n",
                  name[0] == '-' ? "option" : "command", shown);
    return PD_BAD_USAGE;
}

/* `help COMMAND` is `COMMAND --help`. */
static int run_help(char *name)
{
    static char option[] = "--help";
    char *asked[] = {name, option, NULL};
    const struct command *command = find_command(name);

    return command != NULL ? command->run(2, asked) : tell_unknown(name);
}

static bool asks_for_help(const char *word)
{
    return strcmp(word, "help") == 0 || strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0;
}

static int run_command(int argc, char **argv)
{
    if (asks_for_help(argv[0])) {
        if (argc > 1 && argv[0][0] != '-' && !asks_for_help(argv[1])) {
            return run_help(argv[1]);
        }
        print_usage(stdout);
        return PD_DONE;
    }
    if (strcmp(argv[0], "--version") == 0) {
        (void)printf("pumpday %s\n", PD_VERSION);
        return PD_DONE;
    }
    const struct command *command = find_command(argv[0]);
    return command != NULL ? command->run(argc, argv) : tell_unknown(argv[0]);
}

/* Output that did not arrive is a failure, whatever the command thought. */
static int finish_output(int code)
{
    errno = 0;
    if (fflush(stdout) == 0 && ferror(stdout) == 0) {
        return code;
    }
    (void)fprintf(stderr, "pumpday: cannot write to standard output%s%s\n", errno != 0 ? ": " : "",
                  errno != 0 ? strerror(errno) : "");
    return code == PD_DONE ? PD_OUTPUT_FAILED : code;
}

static int run_line(int argc, char **argv)
{
    if (argc < 2) {
        print_usage(stderr);
        return PD_BAD_USAGE;
    }
    return finish_output(run_command(argc - 1, argv + 1));
}

/* Of several ranks the first alone reads the line, and speaks. */
int main(int argc, char **argv)
{
    int code = PD_DONE;

    fill_standard_streams();
    // a reader that went away is told as an output error
    (void)signal(SIGPIPE, SIG_IGN);
    if (!ranks_begin()) {
        (void)fputs("pumpday: MPI does not start\n", stderr);
        return PD_SOLVER_FAILED;
    }
    if (ranks_own() == 0) {
        code = run_line(argc, argv);
        days_dismiss();
    } else {
        days_serve();
    }
    ranks_end();
    return code;
}
