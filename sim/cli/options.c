/* Reads command lines by a table of options. */
#include "cli/options.h"

#include "base/text.h"

#include <pumpday/strategy.h>

#include <stdarg.h>
#include <string.h>

enum { SHOWN_MOST = 80, HELP_COLUMN = 26, NAMES_MOST = 256 };

struct option_reader option_reader_for(const struct usage *usage, int argc, char **argv)
{
    return (struct option_reader){.usage = usage, .argc = argc, .argv = argv, .at = 1};
}

int usage_wrong(const struct usage *usage, const char *format, ...)
{
    va_list values;
    char text[PD_PATH_MOST + PD_TEXT_MOST] = "";

    (void)fprintf(stderr, "pumpday %s: ", usage->command);
    va_start(values, format);
    (void)vsnprintf(text, sizeof text, format, values);
    va_end(values);
    pd_text_put(stderr, text);
    (void)fprintf(stderr, "\nsee `pumpday %s --help`\n", usage->command);
    return PD_BAD_USAGE;
}

static int unknown_option(const struct usage *usage, const char *argument)
{
    char shown[SHOWN_MOST];

    pd_text_show(shown, sizeof shown, argument);
    (void)usage_wrong(usage, "unknown option \"%s\"", shown);
    return OPTION_WRONG;
}

static bool is_named(const struct option *option, const char *argument, size_t length)
{
    if (argument[1] != '-') {
        return option->letter != '\0' && argument[1] == option->letter;
    }
    return option->name != NULL && strlen(option->name) == length - 2 &&
           strncmp(argument + 2, option->name, length - 2) == 0;
}

/* Place of the option that the first `length` characters name; the count if there is none. */
static size_t find_option(const struct usage *usage, const char *argument, size_t length)
{
    size_t i = 0;

    while (i < usage->option_count && !is_named(&usage->options[i], argument, length)) {
        i++;
    }
    return i;
}

/* Takes the value after `=` (long), right after the letter, or from the next argument. */
static bool take_value(struct option_reader *reader, const char *inside, const char *named,
                       const char **value)
{
    if (inside != NULL) {
        *value = inside;
        return true;
    }
    if (reader->at < reader->argc) {
        *value = reader->argv[reader->at++];
        return true;
    }
    (void)usage_wrong(reader->usage, "option \"%s\" needs a value", named);
    return false;
}

static int read_option(struct option_reader *reader, const char *argument, const char **value)
{
    bool is_long = argument[1] == '-';
    size_t length = is_long ? strcspn(argument, "=") : 2;
    size_t found = find_option(reader->usage, argument, length);
    const char *inside = argument[length] == '\0' ? NULL : argument + length + (is_long ? 1 : 0);

    // letters are not run together: -hx is no option
    bool is_flag =
        found < reader->usage->option_count && reader->usage->options[found].value == NULL;
    if (found == reader->usage->option_count || (is_flag && inside != NULL)) {
        return unknown_option(reader->usage, argument);
    }
    if (is_flag) {
        return (int)found;
    }
    return take_value(reader, inside, argument, value) ? (int)found : OPTION_WRONG;
}

int option_next(struct option_reader *reader, const char **value)
{
    *value = NULL;
    if (!reader->words_only && reader->at < reader->argc &&
        strcmp(reader->argv[reader->at], "--") == 0) {
        reader->words_only = true;
        reader->at++;
    }
    if (reader->at >= reader->argc) {
        return OPTION_END;
    }
    const char *argument = reader->argv[reader->at++];
    // a single dash is a word
    if (reader->words_only || argument[0] != '-' || argument[1] == '\0') {
        *value = argument;
        return OPTION_WORD;
    }
    return read_option(reader, argument, value);
}

/* A line of help, the strategies in place of their mark. */
static void print_text(const char *text)
{
    const char *mark = strstr(text, STRATEGIES_MARK);
    char names[NAMES_MOST];

    if (mark == NULL) {
        (void)puts(text);
        return;
    }
    strategy_names(names, sizeof names, ", ");
    (void)printf("%.*s%s%s\n", (int)(mark - text), text, names, mark + strlen(STRATEGIES_MARK));
}

static void print_option(const struct option *option)
{
    char left[SHOWN_MOST] = "  ";
    size_t at = 2;
    const char *value = option->value != NULL ? option->value : "";
    const char *space = option->value != NULL ? " " : "";

    if (option->letter != '\0') {
        at += (size_t)snprintf(left + at, sizeof left - at, "-%c%s", option->letter,
                               option->name != NULL ? ", " : "");
    }
    if (option->name != NULL) {
        at += (size_t)snprintf(left + at, sizeof left - at, "--%s", option->name);
    }
    (void)snprintf(left + at, sizeof left - at, "%s%s", space, value);
    // what is too wide stands on a line of its own
    if (strlen(left) >= HELP_COLUMN) {
        (void)puts(left);
        left[0] = '\0';
    }
    (void)printf("%-*s", HELP_COLUMN, left);
    print_text(option->help);
}

void strategy_names(char *names, size_t size, const char *last)
{
    size_t at = 0;

    names[0] = '\0';
    for (size_t i = 0; i < pd_strategy_count && at < size; i++) {
        const char *between = i == 0 ? "" : i + 1 < pd_strategy_count ? ", " : last;
        at += (size_t)snprintf(names + at, size - at, "%s%s", between, pd_strategies[i]->name);
    }
}

int help_print(const struct usage *usage)
{
    (void)printf("usage: pumpday %s %s%s[OPTION]...\n\n%s\n", usage->command, usage->words,
                 usage->words[0] != '\0' ? " " : "", usage->about);
    for (size_t i = 0; i < usage->option_count; i++) {
        print_option(&usage->options[i]);
    }
    (void)printf("\nexample:\n%s", usage->example);
    return PD_DONE;
}
