/* A small reader of command lines: long options, `--name VALUE` or `--name=VALUE`, a letter of
 * their own where they have one, words, and `--` after which all are words. */
#ifndef PUMPDAY_CLI_OPTIONS_H
#define PUMPDAY_CLI_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

/* One option of a command; a table of them drives both reading and help. */
struct option {
    const char *name;  /* without the dashes; NULL: it has a letter only */
    char letter;       /* 0: none */
    const char *value; /* what its value is called in the help; NULL: it takes none */
    const char *help;
};

/* In a help: the names of all strategies stand here. */
#define STRATEGIES_MARK "STRATEGIES"

/* The options that several commands have. */
#define OPTION_STRATEGY                                                                            \
    {                                                                                              \
        "strategy", 0, "NAME", "only this one; may be repeated (" STRATEGIES_MARK ")"              \
    }
#define OPTION_SET                                                                                 \
    {                                                                                              \
        "set", 0, "ITEM=VALUE", "put a value in place of that of site.csv; may be repeated"        \
    }
#define OPTION_UNITS(help)                                                                         \
    {                                                                                              \
        "units", 0, "si|us", help                                                                  \
    }
#define OPTION_JOBS                                                                                \
    {                                                                                              \
        "jobs", 0, "N", "days side by side, 1 to 256 (one a processor)"                            \
    }
#define OPTION_HELP                                                                                \
    {                                                                                              \
        "help", 'h', NULL, "this text"                                                             \
    }

/* Names of all strategies, commas between them, and `last` before the last. */
void strategy_names(char *names, size_t size, const char *last);

/* A command's way of use, as shown by help_print. */
struct usage {
    const char *command; /* "compare" */
    const char *words;   /* "SCENARIO" */
    const char *about;   /* what it does, whole lines */
    const struct option *options;
    size_t option_count;
    const char *example; /* whole lines */
};

/* What the reader found, where it is not the place of an option in the table. */
enum { OPTION_WORD = -1, OPTION_END = -2, OPTION_WRONG = -3 };

struct option_reader {
    const struct usage *usage;
    int argc;
    char **argv;
    int at; /* starts at 1: argv[0] is the command's name */
    bool words_only;
};

struct option_reader option_reader_for(const struct usage *usage, int argc, char **argv);

/* The next option (its place in the table, its value in *value) or word (in *value).  What is wrong
 * has been told on stderr when it returns OPTION_WRONG. */
int option_next(struct option_reader *reader, const char **value);

/* Tells on stderr what is wrong with the use of a command and where to find help; returns the exit
 * code. */
int usage_wrong(const struct usage *usage, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Prints the help of a command on stdout; returns the exit code. */
int help_print(const struct usage *usage);

#endif
