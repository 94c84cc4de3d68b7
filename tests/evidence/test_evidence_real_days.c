/* Measured days through the whole simulator: the draws of one flat, recorded second by second.
 *
 * Source: A. Di Mauro, S. Venticinque, G. F. Santonastaso, A. Di Nardo, "WEUSEDTO: Water End USE
 * Dataset and TOols", open data under CC BY 4.0 (repository AnnaDiMauro/WEUSEDTO-Data); samples of
 * 1 s joined into draws where the gap is 3 s or less.  The record is no part of the project: where
 * it does not lie beside it, these checks are skipped.
 *
 * Days of the record a week apart, laid over each other, make households of 1, 4 and 12. */
#include <pumpday/day.h>

#include <CUnit/Basic.h>
#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void suite_evidence_real_days(void);

enum { RECORD_MOST = 8000, DAYS_MOST = 400, HOUSEHOLDS = 100, WEEK = 7 };

/* draws that begin after this may be cut by midnight: a cistern fills for some minutes */
static const double late = 23.0 * 3600.0; /* s */

/* delivered volume against the record, of households without a late draw: the integration's share
 */
static const double volume_share = 1e-4;

struct recorded_day {
    size_t first, count; /* draws */
};

static struct pd_draw record[RECORD_MOST];
static size_t record_count;
static struct recorded_day days[DAYS_MOST];
static size_t day_count;

/* The record's path: as the environment gives it, or in a data folder of a neighbour of the
 * project. False where there is none. */
static bool find_record(char path[PD_PATH_MOST])
{
    const char *given = getenv("PUMPDAY_MEASURED_DRAWS");
    glob_t found;

    path[0] = '\0';
    if (given != NULL) {
        (void)snprintf(path, PD_PATH_MOST, "%s", given);
    } else if (glob("../*/data/measured-draws-2019.csv", 0, NULL, &found) == 0) {
        (void)snprintf(path, PD_PATH_MOST, "%s", found.gl_pathv[0]);
        globfree(&found);
    }
    return path[0] != '\0';
}

/* A number up to a mark, which is passed over; false where there is none. */
static bool take_number(const char **text, char mark, double *number)
{
    char *end;

    *number = strtod(*text, &end);
    if (end == *text || *end != mark) {
        return false;
    }
    *text = end + 1;
    return true;
}

/* One row `date,hh:mm:ss,duration,volume,fixture`; a new date begins a new day. */
static bool take_row(const char *row, char date[11])
{
    const char *text = row + 11;
    double hours, minutes, seconds, duration, litres;

    if (strlen(row) < 12 || record_count == RECORD_MOST || !take_number(&text, ':', &hours) ||
        !take_number(&text, ':', &minutes) || !take_number(&text, ',', &seconds) ||
        !take_number(&text, ',', &duration) || !take_number(&text, ',', &litres)) {
        return false;
    }
    if (strncmp(date, row, 10) != 0) {
        if (day_count == DAYS_MOST) {
            return false;
        }
        days[day_count++] = (struct recorded_day){record_count, 0};
        memcpy(date, row, 10);
    }
    record[record_count++] = (struct pd_draw){
        .time = hours * 3600.0 + minutes * 60.0 + seconds,
        .flow = litres * 1e-3 / duration,
        .duration = NAN,
        .volume = litres * 1e-3,
    };
    days[day_count - 1].count++;
    return true;
}

/* False and a word where there is no record. */
static bool have_record(void)
{
    char row[256], date[11] = "";
    char path[PD_PATH_MOST];

    if (record_count > 0) {
        return true;
    }
    FILE *file = find_record(path) ? fopen(path, "r") : NULL;
    if (file == NULL) {
        printf("\n    skipped: no record of measured draws beside the project\n");
        return false;
    }
    CU_ASSERT_PTR_NOT_NULL_FATAL(fgets(row, sizeof row, file));
    while (fgets(row, sizeof row, file) != NULL) {
        CU_ASSERT_FATAL(take_row(row, date));
    }
    (void)fclose(file);
    return true;
}

static int by_time(const void *left, const void *right)
{
    const struct pd_draw *a = left, *b = right;
    return a->time < b->time ? -1 : a->time > b->time;
}

/* Days of the record a week apart in the place of the scenario's own draws. */
static void lay_over(struct pd_scenario *scenario, size_t first_day, size_t people)
{
    size_t count = 0;

    for (size_t i = 0; i < people; i++) {
        count += days[(first_day + i * WEEK) % day_count].count;
    }
    free(scenario->draws);
    scenario->draws = malloc((count + 1) * sizeof *scenario->draws);
    CU_ASSERT_PTR_NOT_NULL_FATAL(scenario->draws);
    if (scenario->draws == NULL) {
        return;
    }
    scenario->draw_count = 0;
    for (size_t i = 0; i < people; i++) {
        const struct recorded_day *day = &days[(first_day + i * WEEK) % day_count];
        memcpy(&scenario->draws[scenario->draw_count], &record[day->first],
               day->count * sizeof *scenario->draws);
        scenario->draw_count += day->count;
    }
    qsort(scenario->draws, scenario->draw_count, sizeof *scenario->draws, by_time);
    // the record is all that is drawn; the day begins at midnight with nothing open
    free(scenario->profile);
    scenario->profile = NULL;
    scenario->profile_count = 0;
    scenario->value[PD_DAY_WARM_UP] = 0.0;
}

/* Volumes that the draws must have got by midnight, and those that may still run. */
static void add_up(const struct pd_scenario *scenario, double *sure, double *open)
{
    *sure = 0.0;
    *open = 0.0;
    for (size_t i = 0; i < scenario->draw_count; i++) {
        *(scenario->draws[i].time < late ? sure : open) += scenario->draws[i].volume;
    }
}

static void check_household(struct pd_day *workspace, const struct pd_scenario *scenario,
                            const struct pd_strategy_kind *kind)
{
    struct pd_plant plant;
    struct pd_day_result result;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_options options = pd_day_default();
    double sure, open;

    CU_ASSERT_FATAL(pd_plant_build(scenario, &plant, &error));
    struct pd_strategy strategy = pd_strategy_for(kind, &plant);
    bool good = pd_day_run(workspace, &plant, &strategy, &options, &result, &error);
    if (!good) {
        pd_error_print(stderr, &error);
    }
    CU_ASSERT_FATAL(good);
    CU_ASSERT_EQUAL(result.ending, PD_ENDING_MIDNIGHT);
    CU_ASSERT(fabs(result.balance_error) <= 1e-4 * result.supplied);
    add_up(scenario, &sure, &open);
    CU_ASSERT(result.delivered >= sure * (1.0 - volume_share));
    CU_ASSERT(result.delivered <= (sure + open) * (1.0 + volume_share));
    pd_plant_free(&plant);
}

/* A hundred households: a third each of 1, 4 and 12 people, under the strategies in turn. */
static void test_households(void)
{
    static const char *const folders[] = {"scenarios/hillside-house", "scenarios/six-flats"};
    static const size_t people[] = {1, 4, 12};
    static struct pd_faults faults;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *workspace;

    if (!have_record()) {
        return;
    }
    workspace = pd_day_create(&error);
    CU_ASSERT_PTR_NOT_NULL_FATAL(workspace);
    for (size_t i = 0; i < HOUSEHOLDS; i++) {
        struct pd_scenario scenario;
        size_t size = people[i % 3];
        faults.count = 0;
        CU_ASSERT_FATAL(pd_scenario_read(folders[size == 12], NULL, 0, &scenario, &faults));
        lay_over(&scenario, i * 2, size);
        check_household(workspace, &scenario, pd_strategies[i / 3 % pd_strategy_count]);
        pd_scenario_free(&scenario);
    }
    pd_day_free(workspace);
}

/* The record is of 225 days of about 80 L, as its description says; a few of them have no draw. */
static void test_record(void)
{
    double volume = 0.0;

    if (!have_record()) {
        return;
    }
    for (size_t i = 0; i < record_count; i++) {
        volume += record[i].volume;
    }
    CU_ASSERT(day_count > 215 && day_count <= 225);
    CU_ASSERT_DOUBLE_EQUAL(volume / 225.0, 0.080, 0.005);
}

void suite_evidence_real_days(void)
{
    CU_pSuite suite = CU_add_suite("evidence: measured days", NULL, NULL);

    CU_add_test(suite, "the record is whole", test_record);
    CU_add_test(suite, "a hundred households of measured draws", test_households);
}
