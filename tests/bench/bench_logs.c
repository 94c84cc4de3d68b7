/* Logs of whole days with a leak, alone and with a wrong precharge or start: what the fit makes of
 * rows that are close, far apart, noisy and told in steps. */
#include "bench/bench_logs.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

enum { ROWS_MOST = 7300 };
static const double span = 7200, noise = 2.5e3, psi = 6894.757, tenth_bar = 1e4;

double wall_time(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* One kind of log. */
struct kind {
    const char *name;
    double interval; /* s */
    bool power, gauged, valve;
};

static const struct kind kinds[] = {
    {"1 s rows", 1, false, false, false},
    {"1 s rows, precharge gauged", 1, false, true, false},
    {"5 s rows", 5, false, false, false},
    {"5 s rows with power", 5, true, false, false},
    {"5 s rows, precharge gauged", 5, false, true, false},
    {"5 s rows, check valve, all told", 5, false, true, true},
    {"30 s rows with power", 30, true, false, false},
    {"30 s rows, precharge gauged", 30, false, true, false},
};
enum { KINDS = sizeof kinds / sizeof kinds[0], CASES = 24 };

/* What is found of one size: within a limit, and within twice what it is said to be off. */
struct found {
    size_t near, held;
    double off;
};

struct tally {
    size_t logs, refused, poor;
    struct found leak, precharge, start;
    double seconds;
};

static const enum pd_suspect_kind beside[] = {PD_SUSPECT_NONE, PD_SUSPECT_PRECHARGE_LOW,
                                              PD_SUSPECT_PRECHARGE_HIGH, PD_SUSPECT_START_OFF};
enum { BESIDE = sizeof beside / sizeof beside[0] };

/* A loss that starts the pump a few times in the time logged, with another fault beside it. */
static struct state plant(const struct site *site, size_t which, bool valve, struct chance *chance)
{
    struct state other = plant_fault(site, beside[which], chance);
    struct site with = *site;

    with.designed = other;
    return plant_fault(&with, valve ? PD_SUSPECT_CHECK_VALVE : PD_SUSPECT_LEAK, chance);
}

static void count(struct found *found, double fitted, double planted, double off, double limit)
{
    found->near += fabs(fitted - planted) <= limit;
    found->held += fabs(fitted - planted) <= 2 * off;
    found->off += off;
}

static void count_fit(struct tally *tally, const struct kind *kind, const struct pd_log_fit *fit,
                      const struct state *state)
{
    double leak = kind->valve ? state->leak_by : state->leak;

    tally->poor += fit->misfit > 2;
    count(&tally->leak, fit->leak / leak, 1, fit->leak_off / leak, 0.2);
    count(&tally->precharge, fit->precharge, state->precharge, fit->precharge_off, 0.5e5);
    // a start that is hidden may be any lower one
    double start = fit->start_hidden ? fmin(fit->start, state->start) : fit->start;
    count(&tally->start, start, state->start, fit->start_off, 0.1e5);
}

static bool fit_one(const struct kind *kind, const struct site *site, const struct pd_log *log,
                    const struct state *state, struct chance *chance, struct tally *tally)
{
    struct pd_seen seen = pd_seen_nothing();
    struct pd_day_options day = pd_day_default();
    struct pd_error error = {.code = PD_DONE};
    struct pd_log_fit fit;

    seen.supply = site->supply;
    if (kind->gauged) {
        seen.sign[PD_SIGN_PRECHARGE] =
            psi * round((state->precharge + chance_normal(chance, 0.8 * psi)) / psi);
    }
    if (kind->valve) {
        seen.sign[PD_SIGN_FALLS_ISOLATED] = 1;
    }
    double begun = wall_time();
    bool good = pd_log_fit(&site->scenario, pd_strategy_find("pressure-start"), log, &seen, &day,
                           &fit, &error);
    tally->seconds += wall_time() - begun;
    tally->logs++;
    if (good) {
        count_fit(tally, kind, &fit, state);
    } else {
        tally->refused++;
    }
    if (!good && error.code != PD_BAD_INPUT) {
        pd_error_print(stderr, &error);
    }
    return good || error.code == PD_BAD_INPUT;
}

static bool try_log(const struct kind *kind, struct site *site, size_t number,
                    struct chance *chance, struct tally *tally)
{
    static double time[ROWS_MOST], pressure[ROWS_MOST], power[ROWS_MOST];
    struct pd_log log = {.file = "log", .time = time, .pressure = pressure};
    struct state state = plant(site, number / SITES % BESIDE, kind->valve, chance);

    log.power = kind->power ? power : NULL;
    // a pump that does not stop leaves nothing to log
    if (!site_log(site, &state, kind->interval, span, &log)) {
        return true;
    }
    blur_log(&log, noise, number % 2 == 0 ? psi : tenth_bar, chance);
    return fit_one(kind, site, &log, &state, chance, tally);
}

static void tell_found(const struct found *found, double fitted, double unit)
{
    printf(" %5.0f %4.0f %5.2f", 100 * (double)found->near / fitted,
           100 * (double)found->held / fitted, found->off / fitted / unit);
}

static void tell(const struct kind *kind, const struct tally *tally)
{
    double fitted = (double)(tally->logs - tally->refused);

    printf("%-32s %4zu %4zu %4zu", kind->name, tally->logs, tally->refused, tally->poor);
    tell_found(&tally->leak, fitted, 1);
    tell_found(&tally->precharge, fitted, 1e5);
    tell_found(&tally->start, fitted, 1e5);
    printf(" %6.2f\n", tally->seconds / (double)tally->logs);
    (void)fflush(stdout);
}

bool bench_logs(struct site site[SITES], struct chance *chance)
{
    printf("\n%-32s %4s %4s %4s %16s %16s %16s %6s\n", "logs of 2 h, 2.5 kPa of noise", "logs",
           "no", "poor", "leak: % held  +-", "precharge", "start", "s");
    for (size_t k = 0; k < KINDS; k++) {
        struct tally tally = {0};
        for (size_t i = 0; i < CASES; i++) {
            if (!try_log(&kinds[k], &site[i % SITES], i, chance, &tally)) {
                return false;
            }
        }
        tell(&kinds[k], &tally);
    }
    printf("no: refused; poor: misfit over 2; of the others %% of leaks within 20 %%, precharges "
           "within 0.5 bar,\nstarts within 0.1 bar; held: within twice what the answer says it may "
           "be off; +-: that, its mean\n(of the leak, bar, bar); s: a fit\n");
    return true;
}
