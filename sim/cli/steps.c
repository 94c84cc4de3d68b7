#include "cli/steps.h"

#include "cli/interrupt.h"

#include "base/text.h"

#include <stdlib.h>
#include <unistd.h>

/* a simulation that takes longer than this is told of */
static const double patience = 2; /* s */

enum { SHOWN_MOST = 128 };

static int take(const struct line_reader *reader, void *request, struct common *common, int found,
                const char *value)
{
    int code;

    if (common != NULL && common_take(reader->usage, common, found, value, &code)) {
        return code;
    }
    return reader->take != NULL ? reader->take(request, found, value) : PD_BAD_USAGE;
}

/* Reads the line; what is shared goes into `common`, if there is one. */
static bool read_line(const struct line_reader *reader, int argc, char **argv, void *request,
                      struct common *common, int *code)
{
    struct option_reader options = option_reader_for(reader->usage, argc, argv);
    const char *value;

    *code = PD_DONE;
    for (int found; *code == PD_DONE && (found = option_next(&options, &value)) != OPTION_END;) {
        if (found == reader->help) {
            *code = help_print(reader->usage);
            return false;
        }
        *code = take(reader, request, common, found, value);
    }
    if (*code == PD_DONE && reader->check != NULL) {
        *code = reader->check(request);
    }
    return *code == PD_DONE;
}

bool line_read(const struct line_reader *reader, int argc, char **argv, void *request, int *code)
{
    return read_line(reader, argc, argv, request, NULL, code);
}

bool common_line_read(const struct line_reader *reader, int argc, char **argv,
                      struct common *request, int *code)
{
    return read_line(reader, argc, argv, request, request, code);
}

int scenario_needed(const struct usage *usage, const char *scenario)
{
    return scenario != NULL ? PD_DONE : usage_wrong(usage, "which scenario? its folder is missing");
}

int scenario_run(const char *folder, const struct sets *sets, enum pd_unit_system *own_units,
                 int (*run)(const struct pd_scenario *scenario, const void *request),
                 const void *request)
{
    struct pd_scenario scenario;

    if (!read_scenario(folder, sets, &scenario)) {
        return PD_BAD_INPUT;
    }
    if (own_units != NULL) {
        *own_units = pd_scenario_units(&scenario);
    }
    interrupt_watch();
    int code = run(&scenario, request);
    pd_scenario_free(&scenario);
    return code;
}

int common_run(const struct common *request,
               int (*run)(const struct pd_scenario *scenario, const void *request))
{
    return scenario_run(request->scenario, &request->sets,
                        request->units_told ? NULL : request->units, run, request);
}

int command_run(const struct line_reader *reader, int argc, char **argv, struct common *request,
                int (*run)(const struct pd_scenario *scenario, const void *request))
{
    int code;

    return common_line_read(reader, argc, argv, request, &code) ? common_run(request, run) : code;
}

struct progress progress_begin(void)
{
    return (struct progress){.begun = time(NULL)};
}

bool progress_go_on(void *context)
{
    struct progress *progress = context;

    if (progress != NULL && !progress->told && isatty(STDERR_FILENO) == 1 &&
        difftime(time(NULL), progress->begun) >= patience) {
        progress->told = true;
        (void)fputs("simulating...\n", stderr);
    }
    return !interrupt_came();
}

int error_tell(const struct pd_error *error)
{
    if (interrupt_came()) {
        (void)fputs("pumpday: interrupted; no file was written\n", stderr);
        return interrupt_exit_code();
    }
    pd_error_print(stderr, error);
    return (int)error->code;
}

void written_tell(const char *path)
{
    (void)fputs("wrote ", stdout);
    pd_text_put(stdout, path);
    (void)fputc('\n', stdout);
}

static void print_title(const struct pd_scenario *scenario, const char *behind)
{
    char shown[SHOWN_MOST];

    pd_text_show(shown, sizeof shown,
                 scenario->title[0] != '\0' ? scenario->title : scenario->folder);
    (void)printf("%s%s\n", shown, behind);
}

void title_print(const struct pd_scenario *scenario)
{
    print_title(scenario, "");
}

void day_title_print(const struct pd_scenario *scenario)
{
    print_title(scenario, scenario->drawn ? " (day 1 of its household, see `pumpday days`)" : "");
}

bool colour_wanted(void)
{
    const char *none = getenv("NO_COLOR");

    return isatty(STDOUT_FILENO) == 1 && (none == NULL || none[0] == '\0');
}
