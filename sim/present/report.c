/* Makes the page for a client: a comparison whose files go into a folder of their own, charts of
 * these files, and the page written from both. */
#include <pumpday/report.h>

#include "base/memory.h"
#include "output/one_file.h"
#include "output/plot.h"
#include "present/days_files.h"
#include "present/page.h"
#include "studies/report_day.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Everything while it is made. */
struct job {
    const struct pd_scenario *scenario;
    const struct pd_report_options *options;
    struct pd_plant plant;
    bool has_plant;
    char folder[PD_PATH_MOST]; /* of the files that charts are made from; "" before it is made */
    char *no_charts;           /* the caller's; "" where there are charts */
    struct pd_comparison comparison;
    struct pd_days many; /* of no strategy where none are asked for */
};

struct pd_report_options pd_report_default(void)
{
    struct pd_report_options options = {.compare = pd_compare_default()};

    // a chart of the day is a thousand dots wide
    options.compare.day.trace_every = 60;
    options.days = 100;
    return options;
}

static bool make_folder(char folder[PD_PATH_MOST], struct pd_error *error)
{
    const char *place = getenv("TMPDIR");
    int length = snprintf(folder, PD_PATH_MOST, "%s/pumpday-XXXXXX",
                          place != NULL && place[0] != '\0' ? place : "/tmp");

    if (length < 0 || length >= PD_PATH_MOST || mkdtemp(folder) == NULL) {
        return pd_error_set(error, PD_OUTPUT_FAILED, place, 0, NULL,
                            "cannot make a folder for a while: %s", strerror(errno));
    }
    return true;
}

/* Removes the folder with the files in it; it has no folders. */
static void remove_folder(const char *folder)
{
    char path[PD_PATH_MOST];
    DIR *entries = opendir(folder);

    if (entries == NULL) {
        return;
    }
    for (const struct dirent *entry; (entry = readdir(entries)) != NULL;) {
        int length = snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        if (length > 0 && (size_t)length < sizeof path) {
            // its own two entries cannot be unlinked, and need not be
            (void)unlink(path);
        }
    }
    (void)closedir(entries);
    (void)rmdir(folder);
}

/* Draws the charts; where that fails the page goes without. */
static void draw(struct job *job)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};

    if (job->options->scripts == NULL) {
        (void)snprintf(job->no_charts, PD_TEXT_MOST, "the scripts that draw them were not found");
    } else if (!pd_plot(job->folder, job->options->scripts, true, &pictures, &error)) {
        (void)snprintf(job->no_charts, PD_TEXT_MOST, "%s",
                       pictures.gnuplot_missing
                           ? "the program gnuplot, which draws them, was not there (Debian: "
                             "apt-get install gnuplot-nox)"
                           : error.text);
    }
}

static void show_days(const struct job *job, struct pd_report_day days[PD_STRATEGIES_MOST])
{
    const struct pd_comparison *comparison = &job->comparison;

    for (size_t i = 0; i < comparison->count; i++) {
        days[i] = report_day_of(job->scenario, &comparison->limits, &comparison->row[i]);
        if (job->many.count > 0) {
            days[i].failing = pd_days_failing(&job->many, i, UINT32_MAX);
            days[i].of = job->many.count;
        }
    }
}

static struct page page_of(const struct job *job, const struct pd_report_day *days)
{
    return (struct page){
        .scenario = job->scenario,
        .plant = &job->plant,
        .days = days,
        .count = job->comparison.count,
        .limits = &job->comparison.limits,
        .asked = pd_scenario_asked(job->scenario),
        .units = job->options->compare.units,
        .many = job->many.count > 0 ? &job->many : NULL,
        .sets = job->options->sets,
        .set_count = job->options->set_count,
        .pictures = job->no_charts[0] == '\0' ? job->folder : NULL,
        .no_charts = job->no_charts,
    };
}

static bool write_pages(const struct job *jobs, const struct pd_compared *list, size_t count,
                        FILE *stream, struct pd_error *error)
{
    struct pd_report_day days[PD_SCENARIOS_MOST][PD_STRATEGIES_MOST];
    struct page pages[PD_SCENARIOS_MOST];

    for (size_t i = 0; i < count; i++) {
        show_days(&jobs[i], days[i]);
        pages[i] = page_of(&jobs[i], days[i]);
        pages[i].number = list != NULL ? i + 1 : 0;
    }
    return list != NULL ? page_write_several(stream, pages, list, count, error)
                        : page_write(stream, pages, error);
}

/* A wish to stop that came while the charts were drawn still leaves no page. */
static bool may_go_on(const struct job *job, struct pd_error *error)
{
    const struct pd_day_options *day = &job->options->compare.day;

    return day->go_on == NULL || day->go_on(day->go_on_context) ||
           pd_error_set(error, PD_INTERRUPTED, NULL, 0, NULL, "stopped on request");
}

/* list: what the jobs are of; NULL: one that stands alone */
static bool write_file(const struct job *jobs, struct pd_compared *list, size_t count,
                       const char *path, struct pd_error *error)
{
    struct pd_outputs outputs;

    if (!pd_one_file_open(&outputs, path, error)) {
        return false;
    }
    for (size_t i = 0; list != NULL && i < count; i++) {
        list[i].comparison = jobs[i].comparison;
    }
    if (!write_pages(jobs, list, count, outputs.file[0].stream, error) || !may_go_on(jobs, error)) {
        pd_outputs_discard(&outputs);
        return false;
    }
    return pd_outputs_commit(&outputs, error);
}

/* The days of a household, and their files beside those of the comparison. */
static bool run_many(struct job *job, struct pd_error *error)
{
    const struct pd_report_options *options = job->options;
    struct pd_days_options days = pd_days_default();

    if (job->scenario->use_count == 0 || options->days == 0) {
        return true;
    }
    memcpy(days.strategies, options->compare.strategies, sizeof days.strategies);
    days.strategy_count = options->compare.strategy_count;
    days.count = options->days;
    days.day.go_on = options->compare.day.go_on;
    days.day.go_on_context = options->compare.day.go_on_context;
    if (!pd_days_run(job->scenario, &days, &job->many, error)) {
        return false;
    }
    if (!pd_days_write_files(job->folder, job->scenario, &job->many, options->compare.units,
                             error)) {
        pd_days_free(&job->many);
        return false;
    }
    return true;
}

/* Compares and draws, with the files in the job's folder. */
static bool run(struct job *job, struct pd_error *error)
{
    struct pd_compare_options compare = job->options->compare;

    compare.folder = job->folder;
    if (!pd_compare(job->scenario, &compare, &job->comparison, error) || !run_many(job, error)) {
        return false;
    }
    draw(job);
    return may_go_on(job, error);
}

/* Everything that a page tells of a scenario.  Clear the job in any case. */
static bool prepare(struct job *job, struct pd_error *error)
{
    if (!pd_plant_build(job->scenario, &job->plant, error)) {
        return false;
    }
    job->has_plant = true;
    if (!make_folder(job->folder, error)) {
        job->folder[0] = '\0';
        return false;
    }
    return run(job, error);
}

static void clear(struct job *job)
{
    if (job->folder[0] != '\0') {
        remove_folder(job->folder);
    }
    if (job->has_plant) {
        pd_plant_free(&job->plant);
    }
    pd_days_free(&job->many);
    pd_comparison_free(&job->comparison);
}

static bool write_report(struct job *jobs, struct pd_compared *list, size_t count, const char *path,
                         struct pd_error *error)
{
    bool good = pd_one_file_try(path, error);

    for (size_t i = 0; good && i < count; i++) {
        good = prepare(&jobs[i], error);
    }
    good = good && write_file(jobs, list, count, path, error);
    for (size_t i = 0; i < count; i++) {
        clear(&jobs[i]);
    }
    return good;
}

bool pd_report_write(const struct pd_scenario *scenario, const struct pd_report_options *options,
                     const char *path, char no_charts[PD_TEXT_MOST], struct pd_error *error)
{
    struct job job = {.scenario = scenario, .options = options, .no_charts = no_charts};

    no_charts[0] = '\0';
    return write_report(&job, NULL, 1, path, error);
}

bool pd_report_write_several(const struct pd_compared *list, size_t count,
                             const struct pd_report_options *options, const char *path,
                             char no_charts[PD_TEXT_MOST], struct pd_error *error)
{
    struct pd_compared compared[PD_SCENARIOS_MOST];
    struct job *jobs = count >= 1 && count <= PD_SCENARIOS_MOST
                           ? pd_memory_resize(NULL, count * sizeof *jobs)
                           : NULL;

    no_charts[0] = '\0';
    if (jobs == NULL) {
        return pd_error_set(error, PD_SOLVER_FAILED, NULL, 0, NULL,
                            "not enough memory for the scenarios, or none or too many of them");
    }
    memset(jobs, 0, count * sizeof *jobs);
    for (size_t i = 0; i < count; i++) {
        jobs[i].scenario = list[i].scenario;
        jobs[i].options = options;
        jobs[i].no_charts = no_charts;
        compared[i] = list[i];
    }
    bool good = write_report(jobs, compared, count, path, error);
    free(jobs);
    return good;
}
