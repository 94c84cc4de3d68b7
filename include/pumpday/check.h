/* Before fitting: what an installation has to show against codes, motor tables and the practice of
 * the trade, each line with what was found, its limit and where the limit comes from. */
#ifndef PUMPDAY_CHECK_H
#define PUMPDAY_CHECK_H

#include <pumpday/compare.h>
#include <pumpday/findings.h>

struct pd_check_options {
    const struct pd_strategy_kind *strategies[PD_STRATEGIES_MOST];
    size_t strategy_count;     /* 0: all three */
    struct pd_day_options day; /* its trace is set by pd_check */
};

struct pd_check_options pd_check_default(void);

/* Checks an installation and its simulated day under each strategy.  False and the error if a day
 * cannot be simulated. */
bool pd_check(const struct pd_scenario *scenario, const struct pd_check_options *options,
              struct pd_findings *findings, struct pd_error *error);

/* What a motor stands. */
struct pd_motor_rule {
    double power;            /* W at the shaft, rated */
    bool power_is_estimated; /* pump.motor_power is not told: 0.80 of pump.csv's greatest power */
    bool phases_missing; /* and are not known: the stricter limits of single-phase and polyphase */
    bool is_submersible; /* pump.submersible, or a well whose water stands over the pump */
    double starts_per_hour, starts_per_day;
    double least_rest;    /* s between starts */
    double least_run;     /* s */
    double usual_run;     /* s, as a two-pressure switch's tank should give; NAN for others */
    bool rest_is_assumed; /* no published figure: common practice, or NEMA's figure stands in */
    const char *starts_source, *day_source, *rest_source, *run_source;
};

/* The rule for the motor of a scenario (pump.motor_power, .poles, .phases, .submersible) and a
 * strategy; NULL: one that stops by flow.
 * Sources: starts per hour and rests of polyphase motors over 3/4 hp: NEMA MG 10, allowable number
 * of starts and minimum time between starts.  Other starts per hour: Water Systems Council tank
 * standard, 15 up to 3/4 hp, 7.5 above.  Starts a day: 300, the same; over 3/4 hp single-phase
 * 100 up to 5.5 hp and then 50, polyphase over 5.5 hp 100: tables that makers of submersible
 * motors have in common, from memory.  Other rests: a minute for two-pressure switches and
 * submersible pumps, common practice, no source; NEMA's row for the size (1 hp at least), as an
 * assumption.  Runs: limit.shortest_run; else a minute for submersible motors and 5 s for others,
 * common practice, no source; a two-pressure switch on another pump should have its minute too. */
struct pd_motor_rule pd_motor_rule_for(const struct pd_scenario *scenario,
                                       const struct pd_strategy *strategy);

#endif
