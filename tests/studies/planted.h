/* Faults planted in whole days of the simulator, and what a fitter's watch, gauge, bucket and
 * logger show of them.  Nothing of the bench on which suspects are tried is used here. */
#ifndef PUMPDAY_TESTS_PLANTED_H
#define PUMPDAY_TESTS_PLANTED_H

#include <pumpday/diagnose.h>

#include <stdint.h>

/* What may be wrong with an installation, SI; leaks at the pressures of their items. */
struct state {
    double leak, leak_by;
    double precharge, start; /* Pa gauge */
    double tank;
};

/* An installation as designed, whose supply stands still while it is looked at. */
enum { SITES = 3 };
struct site {
    const char *name;
    struct pd_scenario scenario, still; /* `still` borrows what it does not own itself */
    struct pd_draw draws[2];
    size_t charging; /* draws that make the pump run */
    struct pd_sample steady;
    struct pd_day *day;
    struct state designed;
    double supply;     /* Pa gauge */
    double stop_gauge; /* Pa, as designed */
    double tap, draw;  /* m3/s at the reference pressure: to fill the bucket; the steady one */
};

/* Reads an installation of those that come along.  False and a message on stdout. */
bool site_open(struct site *site, size_t which);
void site_close(struct site *site);

/* Random numbers of a seed: Knuth's MMIX generator. */
struct chance {
    uint64_t state;
};
double chance_uniform(struct chance *chance, double least, double most);
double chance_by_ratio(struct chance *chance, double least, double most);
double chance_normal(struct chance *chance, double deviation);

/* A fault of a random size; a pair has both. */
struct state plant_fault(const struct site *site, enum pd_suspect_kind kind, struct chance *chance);

/* All readings without any error; yes and no as a share. */
bool site_read(struct site *site, const struct state *state, struct pd_seen *seen);

/* The gauge from a while after the first stop with all taps shut on.  Room for the rows is the
 * caller's; power may be NULL.  *log gets their count. */
bool site_log(struct site *site, const struct state *state, double interval, double span,
              struct pd_log *log);

/* As a fitter reads: times within 3 %, volumes within 5 %, gauges within 0.8 psi (standard
 * deviations), each rounded to what is told (1 s, 0.1 L, 1 psi); a fall about half way is not told.
 */
void blur_seen(struct pd_seen *seen, struct chance *chance);

/* As a logger tells: a gauge's noise [Pa, standard deviation], then rounded to a step [Pa]. */
void blur_log(struct pd_log *log, double noise, double step, struct chance *chance);

/* Whether any reading is further than `units` from that of a sound installation. */
bool shows(const struct pd_seen *faulty, const struct pd_seen *sound, double units);

/* Whether a part that is sound is named first, and as good (a misfit under 1), while what was
 * planted fits worse and is not told beside it. */
bool blames_a_sound_part(const struct pd_diagnosis *diagnosis, enum pd_suspect_kind planted);

#endif
