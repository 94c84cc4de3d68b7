/* Copies files as they are, and writes draws so that they are read back to the last digit. */
#include "present/day_scenario.h"

#include "base/text.h"
#include "output/columns.h"
#include "output/outputs.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { COPIED_MOST = 4, BLOCK = 4096, LINE_MOST = 80 };

/* How the draws of a day begin. */
static const char day_mark[] = "# Day ";

/* The files that say what the installation is. */
static const char *const copied[COPIED_MOST] = {"site.csv", "pump.csv", "supply.csv", "tariff.csv"};

static bool copy(FILE *from, FILE *to)
{
    char block[BLOCK];

    for (size_t length; (length = fread(block, 1, sizeof block, from)) > 0;) {
        if (fwrite(block, 1, length, to) != length) {
            return false;
        }
    }
    return ferror(from) == 0;
}

static bool copy_named(const char *folder, const char *name, FILE *to, struct pd_error *error)
{
    char path[PD_PATH_MOST];
    FILE *from = pd_text_path(path, sizeof path, folder, name) ? fopen(path, "r") : NULL;
    bool good = from != NULL && copy(from, to);

    if (from != NULL) {
        (void)fclose(from);
    }
    return good || pd_error_output(error, path, "copy");
}

static bool stands(const char *folder, const char *name)
{
    char path[PD_PATH_MOST];
    FILE *file = pd_text_path(path, sizeof path, folder, name) ? fopen(path, "r") : NULL;

    if (file != NULL) {
        (void)fclose(file);
    }
    return file != NULL;
}

static void write_draws(FILE *stream, const struct pd_scenario *scenario, uint64_t seed, long day)
{
    const struct pd_unit *flow = pd_unit_find(PD_KIND_FLOW, "L/min");
    const struct pd_unit *litres = pd_unit_find(PD_KIND_VOLUME, "L");

    (void)fprintf(stream,
                  "%s%ld of the household, seed %llu.\n"
                  "time [s],flow [L/min],duration [s],volume [L],fixture\n",
                  day_mark, day, (unsigned long long)seed);
    for (size_t i = 0; i < scenario->draw_count; i++) {
        const struct pd_draw *draw = &scenario->draws[i];
        (void)fprintf(stream, "%.10g,%.10g,", draw->time, pd_unit_from_si(flow, draw->flow));
        if (isnan(draw->volume)) {
            (void)fprintf(stream, "%.10g,,", draw->duration);
        } else {
            (void)fprintf(stream, ",%.10g,", pd_unit_from_si(litres, draw->volume));
        }
        pd_csv_text(stream, draw->fixture);
        (void)fputc('\n', stream);
    }
}

/* Whether the draws of a folder are those of such a day. */
static bool holds_a_day(const char *folder)
{
    char path[PD_PATH_MOST], line[LINE_MOST] = "";
    FILE *file = pd_text_path(path, sizeof path, folder, "demand.csv") ? fopen(path, "r") : NULL;
    bool good = file != NULL && fgets(line, sizeof line, file) != NULL &&
                strncmp(line, day_mark, strlen(day_mark)) == 0;

    if (file != NULL) {
        (void)fclose(file);
    }
    return good;
}

/* A day written into somebody's scenario would take the place of its files, or be mixed with them:
 * only a folder without any, or with a day that was written before, will do. */
static bool may_hold_a_day(const char *folder, const char *const *names, size_t count,
                           struct pd_error *error)
{
    static const char *const files[] = {"site.csv",   "pump.csv",   "demand.csv",   "profile.csv",
                                        "supply.csv", "tariff.csv", "household.csv"};

    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        bool written = false;
        for (size_t k = 0; k < count; k++) {
            written = written || strcmp(files[i], names[k]) == 0;
        }
        if (stands(folder, files[i]) && !(written && holds_a_day(folder))) {
            return pd_error_set(error, PD_OUTPUT_FAILED, folder, 0, files[i],
                                "the folder holds another scenario, expected a new one, or one "
                                "that a day was written to before");
        }
    }
    return true;
}

bool pd_day_write_scenario(const char *folder, const struct pd_scenario *scenario, uint64_t seed,
                           long day, struct pd_error *error)
{
    const char *names[COPIED_MOST + 1];
    struct pd_outputs outputs;
    size_t count = 0;

    for (size_t i = 0; i < COPIED_MOST; i++) {
        if (stands(scenario->folder, copied[i])) {
            names[count++] = copied[i];
        }
    }
    names[count] = "demand.csv";
    if (!may_hold_a_day(folder, names, count + 1, error)) {
        return false;
    }
    if (!pd_outputs_open(&outputs, folder, names, count + 1, error)) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        if (!copy_named(scenario->folder, names[i], outputs.file[i].stream, error)) {
            pd_outputs_discard(&outputs);
            return false;
        }
    }
    write_draws(outputs.file[count].stream, scenario, seed, day);
    return pd_outputs_commit(&outputs, error);
}
