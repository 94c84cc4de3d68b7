/* Options that mean the same in every command. */
#include "cli/choices.h"

#include "base/text.h"

#include <string.h>
#include <unistd.h>

enum { SHOWN_MOST = 128, NAMES_MOST = 256 };

int choose_scenario(const struct usage *usage, const char **scenario, const char *value)
{
    if (*scenario != NULL) {
        char shown[SHOWN_MOST];
        pd_text_show(shown, sizeof shown, value);
        return usage_wrong(usage, "one scenario at a time, got \"%s\" too", shown);
    }
    *scenario = value;
    return PD_DONE;
}

int choose_set(const struct usage *usage, struct sets *sets, const char *value)
{
    if (sets->count == SETS_MOST) {
        return usage_wrong(usage, "more than %d times --set", (int)SETS_MOST);
    }
    sets->list[sets->count++] = value;
    return PD_DONE;
}

static bool is_number(const char *value, double least, double most, double *number)
{
    return pd_text_number(value, number, NULL) == PD_NUMBER_GOOD && *number >= least &&
           *number <= most;
}

int choose_number(const struct usage *usage, const char *option, double least, double most,
                  double *number, const char *value)
{
    char shown[SHOWN_MOST];

    if (is_number(value, least, most, number)) {
        return PD_DONE;
    }
    pd_text_show(shown, sizeof shown, value);
    return usage_wrong(usage, "%s: got \"%s\", expected a number, %g to %g", option, shown, least,
                       most);
}

int choose_whole(const struct usage *usage, const char *option, long least, long most, long *number,
                 const char *value)
{
    char shown[SHOWN_MOST];
    double told = 0;

    if (is_number(value, (double)least, (double)most, &told) && told == (double)(long)told) {
        *number = (long)told;
        return PD_DONE;
    }
    pd_text_show(shown, sizeof shown, value);
    return usage_wrong(usage, "%s: got \"%s\", expected a whole number, %ld to %ld", option, shown,
                       least, most);
}

int choose_units(const struct usage *usage, enum pd_unit_system *units, bool *told,
                 const char *value)
{
    if (strcmp(value, "si") != 0 && strcmp(value, "us") != 0) {
        char shown[SHOWN_MOST];
        pd_text_show(shown, sizeof shown, value);
        return usage_wrong(usage, "--units: got \"%s\", expected si or us", shown);
    }
    *units = value[0] == 'u' ? PD_UNITS_US : PD_UNITS_SI;
    *told = true;
    return PD_DONE;
}

int choose_file(const struct usage *usage, const char **file, const char *value)
{
    static const char *const inputs[] = {"site.csv",   "pump.csv",      "demand.csv", "profile.csv",
                                         "supply.csv", "household.csv", "tariff.csv"};
    const char *stroke = strrchr(value, '/');
    const char *name = stroke != NULL ? stroke + 1 : value;

    if (value[0] == '\0') {
        return usage_wrong(usage, "-o: the name of the file is empty");
    }
    // what is there may be the very scenario
    for (size_t i = 0; i < sizeof inputs / sizeof inputs[0]; i++) {
        if (strcmp(name, inputs[i]) == 0 && access(value, F_OK) == 0) {
            char shown[SHOWN_MOST];
            pd_text_show(shown, sizeof shown, value);
            return usage_wrong(usage, "-o: \"%s\" is a file of a scenario, name another", shown);
        }
    }
    *file = value;
    return PD_DONE;
}

int choose_strategy(const struct usage *usage, const struct pd_strategy_kind **strategies,
                    size_t *count, const char *value)
{
    const struct pd_strategy_kind *kind = pd_strategy_find(value);
    char shown[SHOWN_MOST];

    pd_text_show(shown, sizeof shown, value);
    if (kind == NULL) {
        char names[NAMES_MOST];
        strategy_names(names, sizeof names, " or ");
        return usage_wrong(usage, "unknown strategy \"%s\", expected %s", shown, names);
    }
    for (size_t i = 0; i < *count; i++) {
        if (strategies[i] == kind) {
            return usage_wrong(usage, "strategy \"%s\" is named twice", shown);
        }
    }
    strategies[(*count)++] = kind;
    return PD_DONE;
}

static int choose_jobs(const struct usage *usage, int *jobs, const char *value)
{
    long number = 0;
    int code = choose_whole(usage, "--jobs", 1, PD_JOBS_MOST, &number, value);

    *jobs = (int)number;
    return code;
}

static bool is_named(const struct option *option, const char *name)
{
    return option->name != NULL && strcmp(option->name, name) == 0;
}

static bool take_option(const struct usage *usage, struct common *common,
                        const struct option *option, const char *value, int *code)
{
    if (is_named(option, "set")) {
        *code = choose_set(usage, &common->sets, value);
    } else if (is_named(option, "strategy") && common->strategies != NULL) {
        *code = choose_strategy(usage, common->strategies, common->strategy_count, value);
    } else if (is_named(option, "units") && common->units != NULL) {
        *code = choose_units(usage, common->units, &common->units_told, value);
    } else if (is_named(option, "jobs") && common->jobs != NULL) {
        *code = choose_jobs(usage, common->jobs, value);
    } else if (option->letter == 'o' && common->file != NULL) {
        *code = choose_file(usage, common->file, value);
    } else {
        return false;
    }
    return true;
}

bool common_take(const struct usage *usage, struct common *common, int found, const char *value,
                 int *code)
{
    if (found == OPTION_WORD && common->own_words) {
        return false;
    }
    if (found == OPTION_WORD) {
        *code = choose_scenario(usage, &common->scenario, value);
        return true;
    }
    return found >= 0 && take_option(usage, common, &usage->options[found], value, code);
}

/* Only an override has no file to be named by. */
static void name_overrides(struct pd_faults *faults)
{
    size_t kept = faults->count < PD_FAULTS_MOST ? faults->count : PD_FAULTS_MOST;

    for (size_t i = 0; i < kept; i++) {
        struct pd_error *fault = &faults->list[i];
        if (fault->file[0] == '\0') {
            (void)snprintf(fault->file, sizeof fault->file, "--set");
        }
    }
}

bool read_scenario(const char *folder, const struct sets *sets, struct pd_scenario *scenario)
{
    struct pd_faults faults = {.count = 0};

    if (pd_scenario_read(folder, sets->list, sets->count, scenario, &faults)) {
        return true;
    }
    if (sets->count > 0) {
        name_overrides(&faults);
    }
    pd_faults_print(stderr, &faults);
    return false;
}
