/* Finding a fault from what is seen on site: each suspect is simulated, its size fitted to the
 * readings, and the suspects ranked by what is left between seen and simulated. */
#ifndef PUMPDAY_DIAGNOSE_H
#define PUMPDAY_DIAGNOSE_H

#include <pumpday/day.h>

/* What can be read on site with watch, gauge and bucket. */
enum pd_sign {
    PD_SIGN_PRECHARGE,      /* Pa gauge on the gas side, pump off and water side drained to zero */
    PD_SIGN_BETWEEN_STARTS, /* s from start to start, all taps shut */
    PD_SIGN_ON,             /* s that a run takes, at the known draw */
    PD_SIGN_OFF,            /* s from stop to start, at the known draw */
    PD_SIGN_DRAWN,          /* m3 out of a tap opened PD_BENCH_STANDS (sheet.h) after a stop, until
                             * the pump starts: the bucket of a commissioning sheet */
    PD_SIGN_START_GAUGE,    /* Pa gauge as the pump starts */
    PD_SIGN_STOP_GAUGE,     /* Pa gauge as it stops, all taps shut */
    PD_SIGN_STOPS,          /* 1: it stops once all taps are shut; 0: it runs on */
    PD_SIGN_FALLS,          /* share of the way down to the supply's in the hour after a stop, the
                             * pump switched off and all taps shut */
    PD_SIGN_FALLS_ISOLATED, /* the same with the house's stop valve shut too */
    PD_SIGN_COUNT
};

/* A reading's name (`between_starts`), its kind (PD_KIND_CHOICE: yes or no) and what to do. */
struct pd_sign_row {
    const char *name;
    enum pd_kind kind;
    const char *help;
};
extern const struct pd_sign_row pd_signs[PD_SIGN_COUNT];

/* A time that stands for never: longer ones are not waited for. */
#define PD_SIGN_NEVER 14400.0 /* s */

/* What was seen.  NAN: not told. */
struct pd_seen {
    double sign[PD_SIGN_COUNT];
    double step[PD_SIGN_COUNT]; /* of dial, watch or bucket, SI; NAN: a usual one */
    double draw;                /* m3/s at the reference pressure, while on and off were seen */
    double supply;              /* Pa gauge; else the day's mean */
};

struct pd_seen pd_seen_nothing(void);

/* How far a reading may be off: what careful people are off with such an instrument, and half of
 * its step.  Pa, a share for yes and no; s and m3 at this size. */
double pd_sign_off(enum pd_sign sign, double size, double step);

/* How far a simulated reading is from the one seen, in units of what it may be off.  For times and
 * volumes it is that for small differences and grows with the ratio for large ones. */
double pd_sign_distance(enum pd_sign sign, double simulated, double seen, double step);

enum pd_suspect_kind {
    PD_SUSPECT_NONE, /* all as designed */
    PD_SUSPECT_LEAK,
    PD_SUSPECT_CHECK_VALVE,
    PD_SUSPECT_PRECHARGE_LOW,
    PD_SUSPECT_PRECHARGE_HIGH,
    PD_SUSPECT_START_OFF,
    PD_SUSPECT_TANK_SMALL,
    PD_SUSPECT_LEAK_PRECHARGE_LOW, /* two faults at once, from here on */
    PD_SUSPECT_LEAK_PRECHARGE_HIGH,
    PD_SUSPECT_VALVE_PRECHARGE_LOW,
    PD_SUSPECT_VALVE_PRECHARGE_HIGH,
    PD_SUSPECT_COUNT
};
const char *pd_suspect_name(enum pd_suspect_kind kind);

/* The size of a fault; precharge, start: Pa gauge (flow-start's: m3/s); leaks: m3/s at the
 * pressures of their items; tank: m3. */
struct pd_part {
    enum pd_suspect_kind kind; /* a single one */
    enum pd_kind size_kind;
    double size, designed;
};
enum { PD_PARTS_MOST = 2 };

/* One suspect with its fitted sizes and all its simulated readings. */
struct pd_suspect {
    enum pd_suspect_kind kind;
    struct pd_part part[PD_PARTS_MOST];
    size_t parts;                  /* 0: all as designed */
    double misfit;                 /* root mean square of the distances */
    double reading[PD_SIGN_COUNT]; /* NAN: it does not happen */
    enum pd_sign ruled_out_by; /* a yes or no that was seen and is the other here; PD_SIGN_COUNT if
                                * there is none */
    bool needless; /* two faults that explain what was seen hardly better than one of them */
};

struct pd_diagnosis {
    struct pd_strategy strategy; /* as designed */
    double supply;               /* Pa gauge */
    double draw;                 /* m3/s at the reference pressure: told, or a trickle */
    double leak_pressure;        /* Pa gauge, at which leaks are told */
    struct pd_suspect suspect[PD_SUSPECT_COUNT]; /* the likeliest first; needless ones and those
                                                  * ruled out last */
    size_t told;                                 /* readings */
    size_t alike;        /* of the first, how many what was seen does not tell apart */
    enum pd_sign apart;  /* among readings not told, what tells the first two apart best; of those
                          * that tell them apart without doubt the easiest to read */
    double apart_by;     /* by how many units; under 2 is no help */
    double leak_by_hand; /* m3/s at the mean gauge; NAN unless the time between starts was told */
    bool never_starts;   /* the pump does not start where as designed it would */
};

/* Suspects whose sums of squared distances are so near each other are not told apart. */
#define PD_ALIKE 2.5
/* A misfit over this is no explanation. */
#define PD_EXPLAINS 2.0

/* At least one reading must be told.  False and the error if a day cannot be simulated. */
bool pd_diagnose(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                 const struct pd_seen *seen, const struct pd_day_options *day,
                 struct pd_diagnosis *diagnosis, struct pd_error *error);

/* The leak [m3/s] by hand: what the tank gives between two gauge pressures, over the seconds
 * between starts. */
double pd_leak_by_hand(const struct pd_tank *tank, double atmosphere, double low, double high,
                       double seconds);

/* A gauge logged with all taps shut. */
struct pd_log {
    char file[PD_PATH_MOST];
    size_t count;
    double *time;     /* s, rising */
    double *pressure; /* Pa gauge */
    double *power;    /* W; NULL where the log has none */
};

/* Reads columns time ([s] or HH:MM:SS), pressure [unit] and, if there, power [unit].  False and the
 * faults; then there is nothing to free. */
bool pd_log_read(const char *file, struct pd_log *log, struct pd_faults *faults);
void pd_log_free(struct pd_log *log);

/* What is taken from a log, cycle by cycle, and averaged. */
enum pd_trait {
    PD_TRAIT_LOW,        /* Pa gauge, before a rise */
    PD_TRAIT_HIGH,       /* Pa gauge, before a fall */
    PD_TRAIT_PERIOD,     /* s from rise to rise */
    PD_TRAIT_RISE,       /* s from a fifth to four fifths of the way up */
    PD_TRAIT_UPPER_FALL, /* s from four fifths to half of the way */
    PD_TRAIT_LOWER_FALL, /* s from half to a fifth of the way */
    PD_TRAIT_ON,         /* s with the power on; NAN without power */
    PD_TRAIT_COUNT
};
extern const struct pd_sign_row pd_traits[PD_TRAIT_COUNT];

struct pd_log_fit {
    struct pd_strategy strategy;        /* as designed */
    double precharge, start;            /* Pa gauge */
    double leak;                        /* m3/s at leak_pressure */
    double leak_pressure;               /* Pa gauge; across the check valve if by_valve */
    double leak_designed, leak_by_hand; /* m3/s; by hand at the gauge's mean */
    double supply, supply_designed;     /* Pa gauge; the day's mean, or as told */
    double precharge_off, start_off, leak_off,
        supply_off; /* what they may be off, standard deviations */
    double misfit;
    double logged[PD_TRAIT_COUNT], simulated[PD_TRAIT_COUNT]; /* NAN: the rows do not show it */
    double off[PD_TRAIT_COUNT];                               /* what the logged may be off */
    size_t cycles;
    double interval;    /* s between rows */
    double gauge_step;  /* Pa, of the logger; next to nothing where it shows none */
    bool logged_slowly; /* rises are too short for the interval: the precharge is a guess */
    bool far_apart;     /* rows too far apart to follow a run: read by its times and gauges */
    bool has_power;     /* the log has it */
    bool gauged;        /* the precharge was, and is not fitted */
    bool start_hidden;  /* under the precharge the gauge drops at once: the start is this or less */
    bool supply_told;   /* it is not fitted */
    bool by_valve;      /* the house was shut and the gauge fell: the check valve loses the water */
    bool house_leaks;   /* it was shut and the gauge stood */
};

/* Fits precharge, leak and start pressure to a log.  Of `seen` the supply counts, a precharge that
 * was gauged, which is held, and PD_SIGN_FALLS_ISOLATED, which tells where water is lost.  False
 * and the error: PD_BAD_INPUT if the log shows too little, PD_BAD_USAGE if the strategy has no
 * start pressure. */
bool pd_log_fit(const struct pd_scenario *scenario, const struct pd_strategy_kind *kind,
                const struct pd_log *log, const struct pd_seen *seen,
                const struct pd_day_options *day, struct pd_log_fit *fit, struct pd_error *error);

#endif
