/* How often fault-finding names a fault that was planted, and how often it says that it cannot
 * tell: whole days of three installations with something wrong, read as a fitter and a logger read.
 */
#include "bench/bench_logs.h"
#include "studies/planted.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* What is planted and what is read of it. */
struct group {
    const char *name;
    size_t cases, kinds;
    enum pd_suspect_kind kind[6];
    bool partly;  /* of the readings only time between starts, gauges and precharge */
    double reach; /* share to be found */
};

#define SINGLES                                                                                    \
    {                                                                                              \
        PD_SUSPECT_LEAK, PD_SUSPECT_CHECK_VALVE, PD_SUSPECT_PRECHARGE_LOW,                         \
            PD_SUSPECT_PRECHARGE_HIGH, PD_SUSPECT_START_OFF, PD_SUSPECT_TANK_SMALL                 \
    }
#define PAIRS                                                                                      \
    {                                                                                              \
        PD_SUSPECT_LEAK_PRECHARGE_LOW, PD_SUSPECT_LEAK_PRECHARGE_HIGH,                             \
            PD_SUSPECT_VALVE_PRECHARGE_LOW, PD_SUSPECT_VALVE_PRECHARGE_HIGH                        \
    }

static const struct group groups[] = {
    {"nothing wrong, all readings", 24, 1, {PD_SUSPECT_NONE}, false, 0.95},
    {"one fault, all readings", 126, 6, SINGLES, false, 0.95},
    {"one fault, interval, gauges, precharge", 108, 6, SINGLES, true, 0.8},
    {"two faults, all readings", 72, 4, PAIRS, false, 0.8},
    {"two faults, interval, gauges, precharge", 70, 4, PAIRS, true, 0.8},
};
enum { GROUPS = sizeof groups / sizeof groups[0] };

/* A fault that shows less in every reading is not there for a fitter. */
static const double shows_units = 3;

struct tally {
    size_t cases, first, among, undecided, blamed;
    double misfit, seconds;
};

static bool is_told(const struct group *group, int sign)
{
    return !group->partly || sign == PD_SIGN_BETWEEN_STARTS || sign == PD_SIGN_START_GAUGE ||
           sign == PD_SIGN_STOP_GAUGE || sign == PD_SIGN_PRECHARGE;
}

static void forget(const struct group *group, struct pd_seen *seen)
{
    for (int sign = 0; sign < PD_SIGN_COUNT; sign++) {
        seen->sign[sign] = is_told(group, sign) ? seen->sign[sign] : (double)NAN;
    }
}

/* Plants until the fault shows. */
static bool plant(const struct group *group, struct site *site, enum pd_suspect_kind kind,
                  struct chance *chance, struct state *state, struct pd_seen *seen)
{
    struct pd_seen sound;

    if (!site_read(site, &site->designed, &sound)) {
        return false;
    }
    forget(group, &sound);
    for (int i = 0; i < 40; i++) {
        *state = plant_fault(site, kind, chance);
        if (!site_read(site, state, seen)) {
            return false;
        }
        forget(group, seen);
        if (kind == PD_SUSPECT_NONE || shows(seen, &sound, shows_units)) {
            return true;
        }
    }
    return false;
}

/* The place of a kind in the ranking. */
static size_t place_of(const struct pd_diagnosis *diagnosis, enum pd_suspect_kind kind)
{
    size_t i = 0;

    while (i + 1 < PD_SUSPECT_COUNT && diagnosis->suspect[i].kind != kind) {
        i++;
    }
    return i;
}

static void count(struct tally *tally, const struct pd_diagnosis *diagnosis,
                  enum pd_suspect_kind kind)
{
    size_t place = place_of(diagnosis, kind);
    const struct pd_suspect *truth = &diagnosis->suspect[place];

    tally->cases++;
    tally->first += place == 0;
    tally->among += place < diagnosis->alike;
    tally->undecided += diagnosis->alike > 1;
    tally->blamed += blames_a_sound_part(diagnosis, kind);
    tally->misfit += truth->misfit;
}

static bool try_case(const struct group *group, struct site *site, enum pd_suspect_kind kind,
                     struct chance *chance, struct tally *tally)
{
    struct pd_day_options day = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_seen seen;
    struct pd_diagnosis diagnosis;
    struct state state;

    if (!plant(group, site, kind, chance, &state, &seen)) {
        // this fault does not show in these readings here
        return true;
    }
    blur_seen(&seen, chance);
    double begun = wall_time();
    if (!pd_diagnose(&site->scenario, pd_strategy_find("pressure-start"), &seen, &day, &diagnosis,
                     &error)) {
        pd_error_print(stderr, &error);
        return false;
    }
    tally->seconds += wall_time() - begun;
    count(tally, &diagnosis, kind);
    return true;
}

static double percent(size_t part, size_t whole)
{
    return whole > 0 ? 100 * (double)part / (double)whole : (double)NAN;
}

static void tell(const struct group *group, const struct tally *tally, double seconds)
{
    printf("%-40s %5zu %7.1f %7.1f %7.1f %7.1f %7zu %9.2f %7.2f\n", group->name, tally->cases,
           100 * group->reach, percent(tally->first, tally->cases),
           percent(tally->among, tally->cases), percent(tally->undecided, tally->cases),
           tally->blamed, tally->misfit / (double)tally->cases, seconds / (double)tally->cases);
    (void)fflush(stdout);
}

static bool try_group(const struct group *group, struct site site[SITES], struct chance *chance)
{
    struct tally tally = {0};

    for (size_t i = 0; i < group->cases; i++) {
        enum pd_suspect_kind kind = group->kind[i / SITES % group->kinds];
        if (!try_case(group, &site[i % SITES], kind, chance, &tally)) {
            return false;
        }
    }
    tell(group, &tally, tally.seconds);
    return true;
}

/* The seed of all that is left to chance. */
static bool read_seed(int argc, char **argv, struct chance *chance)
{
    char *end = NULL;

    chance->state = argc > 1 ? strtoull(argv[1], &end, 10) : 42;
    if (argc > 2 || (argc > 1 && (end == argv[1] || *end != '\0'))) {
        (void)fprintf(stderr, "usage: bench-diagnose [SEED], a whole number\n");
        return false;
    }
    return true;
}

static bool try_readings(struct site site[SITES], struct chance *chance)
{
    printf("%-40s %5s %7s %7s %7s %7s %7s %9s %7s\n", "% of cases", "cases", "wanted", "first",
           "among", "alike", "blamed", "misfit", "s");
    for (size_t g = 0; g < GROUPS; g++) {
        if (!try_group(&groups[g], site, chance)) {
            return false;
        }
    }
    printf(
        "first: named first; among: first, or among those said to fit alike; alike: answers that "
        "say so;\nblamed: a sound part first, with a misfit under 1, where the planted fault's is "
        "worse and it is not\namong; misfit: of the planted one; s: a diagnosis\n");
    return true;
}

int main(int argc, char **argv)
{
    struct chance chance;
    struct site site[SITES];
    bool good = true;

    if (!read_seed(argc, argv, &chance)) {
        return 2;
    }
    for (size_t i = 0; i < SITES; i++) {
        good = site_open(&site[i], i) && good;
    }
    good = good && try_readings(site, &chance) && bench_logs(site, &chance);
    for (size_t i = 0; i < SITES; i++) {
        site_close(&site[i]);
    }
    return good ? 0 : 1;
}
