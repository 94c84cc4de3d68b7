/* `pumpday new`: a commented scenario to start from. */
#include "cli/commands.h"
#include "cli/steps.h"

#include "base/text.h"

#include <pumpday/scenario.h>

#include <math.h>
#include <string.h>

enum { KIND, DWELLINGS, PEOPLE, UNITS, HELP, OPTION_COUNT };
enum { SHOWN_MOST = 128 };

/* people in a dwelling of the European Union: about 2.3, from memory */
static const double usual_people = 2.3;

/* a busy day has more than the mean one */
static const double most_draws = 0.75 * PD_DRAWS_MOST;

static const struct option options[OPTION_COUNT] = {
    [KIND] = {"kind", 0, "house|well",
              "a booster on a main, or a pump down a drilled well (house)"},
    [DWELLINGS] = {"dwellings", 0, "N", "a household of so many dwellings, for `pumpday days`"},
    [PEOPLE] = {"people", 0, "P", "in each dwelling, with --dwellings (2.3)"},
    [UNITS] = {"units", 0, "si|us", "units in which the house is written (si)"},
    [HELP] = OPTION_HELP,
};

static const struct usage usage = {
    .command = "new",
    .words = "FOLDER",
    .about =
        "Writes site.csv, pump.csv and demand.csv of an invented house into a new or empty "
        "folder.\nEvery item stands there with its default and its meaning. Results come "
        "in the\nunits of the scenario. With --dwellings a household.csv stands "
        "in place of demand.csv: what water is\nused for, how often, how much and when, as "
        "chances from which days are drawn. Pump,\npipes and tank stay those of a house: put in "
        "those of the building.\n",
    .options = options,
    .option_count = OPTION_COUNT,
    .example = "  pumpday new my-house --units us && pumpday compare my-house\n"
               "  pumpday new my-well --kind well && pumpday compare my-well\n"
               "  pumpday new ten-flats --dwellings 10 && pumpday days ten-flats\n",
};

static int write_scenario(const char *folder, const struct pd_template *template)
{
    struct pd_error error = {.code = PD_DONE};
    char shown[SHOWN_MOST];

    if (!pd_scenario_write_template(folder, template, &error)) {
        pd_error_print(stderr, &error);
        return (int)error.code;
    }
    pd_text_show(shown, sizeof shown, folder);
    (void)printf("wrote %s: site.csv, pump.csv, %s\n", shown,
                 template->dwellings > 0 ? "household.csv" : "demand.csv");
    return PD_DONE;
}

/* What the command line asks for. */
struct request {
    const char *folder;
    struct pd_template template;
    bool units_told;
};

static int take_kind(struct request *request, const char *value)
{
    char shown[SHOWN_MOST];

    if (strcmp(value, "house") == 0 || strcmp(value, "well") == 0) {
        request->template.kind = value[0] == 'w' ? PD_TEMPLATE_WELL : PD_TEMPLATE_HOUSE;
        return PD_DONE;
    }
    pd_text_show(shown, sizeof shown, value);
    return usage_wrong(&usage, "--kind: got \"%s\", expected house or well", shown);
}

static int take(void *context, int found, const char *value)
{
    struct request *request = context;

    switch (found) {
    case KIND:
        return take_kind(request, value);
    case DWELLINGS:
        return choose_number(&usage, "--dwellings", 1, 2000, &request->template.dwellings, value);
    case PEOPLE:
        return choose_number(&usage, "--people", 0.5, 20, &request->template.people, value);
    case UNITS:
        return choose_units(&usage, &request->template.units, &request->units_told, value);
    case OPTION_WORD:
        if (request->folder != NULL) {
            return usage_wrong(&usage, "one folder at a time");
        }
        request->folder = value;
        return PD_DONE;
    default:
        return PD_BAD_USAGE;
    }
}

/* Of a weekday, on the average; none without a household. */
static double draws_a_day(const struct pd_template *template)
{
    struct pd_use uses[PD_USES_MOST];
    double sum = 0;

    if (template->dwellings > 0) {
        size_t count = pd_household_usual(template->dwellings, template->people, uses);
        for (size_t i = 0; i < count; i++) {
            sum += uses[i].draws_per_day * fmax(uses[i].weekday, uses[i].weekend);
        }
    }
    return sum;
}

static int check_request(void *context)
{
    struct request *request = context;

    if (request->folder == NULL || request->folder[0] == '\0') {
        return usage_wrong(&usage, "which folder? its name is missing");
    }
    if (request->template.people > 0 && !(request->template.dwellings > 0)) {
        return usage_wrong(&usage, "--people goes with --dwellings");
    }
    if (!(request->template.people > 0)) {
        request->template.people = usual_people;
    }
    double draws = draws_a_day(&request->template);
    if (draws > most_draws) {
        return usage_wrong(&usage,
                           "so many people draw water some %.0f times a day, more than "
                           "`pumpday days` takes (%d): fewer dwellings",
                           draws, (int)PD_DRAWS_MOST);
    }
    return PD_DONE;
}

static const struct line_reader line = {&usage, HELP, take, check_request};

int cmd_new(int argc, char **argv)
{
    struct request request = {.template = {.units = PD_UNITS_SI}};
    int code;

    return line_read(&line, argc, argv, &request, &code)
               ? write_scenario(request.folder, &request.template)
               : code;
}
