/* Tells which setting is preferred and why, or that none is needed or none will do. */
#include "present/settings_reason.h"

#include "output/amount.h"

#include <math.h>

void pd_off_words(char text[PD_OFF_WORDS_MOST], enum pd_off off,
                  const struct pd_settings_options *options)
{
    char amount[PD_AMOUNT_MOST], level[PD_AMOUNT_MOST];

    pd_amount_text(amount, PD_KIND_PRESSURE, options->units,
                   off == PD_OFF_PRECHARGE ? options->precharge_off : options->supply_off);
    pd_amount_text(level, PD_KIND_HEAD, options->units, options->level_off);
    switch (off) {
    case PD_OFF_SUPPLY:
        (void)snprintf(text, PD_OFF_WORDS_MOST, "if the supply is %s lower (a level: %s)", amount,
                       level);
        return;
    case PD_OFF_HIGH_SUPPLY:
        (void)snprintf(text, PD_OFF_WORDS_MOST,
                       "if the supply stands all day at its highest, a main %s higher", amount);
        return;
    case PD_OFF_DEMAND:
        (void)snprintf(text, PD_OFF_WORDS_MOST, "if the draws are %.0f %% larger",
                       100 * options->demand_off);
        return;
    case PD_OFF_PRECHARGE:
        (void)snprintf(text, PD_OFF_WORDS_MOST, "if the precharge is %s lower", amount);
        return;
    case PD_OFF_ALL:
        (void)snprintf(text, PD_OFF_WORDS_MOST,
                       "if a lower supply, larger draws and a lower precharge come together");
        return;
    case PD_OFF_TRICKLE:
        (void)snprintf(text, PD_OFF_WORDS_MOST,
                       "if a tap trickles from 1:00 to 3:00, at the flow that cycles worst");
        return;
    case PD_OFF_COUNT:
        break;
    }
    text[0] = '\0';
}

static const char *reason_words(enum pd_reason reason)
{
    static const char *const words[] = {
        [PD_REASON_NONE_PASSES] = "",
        [PD_REASON_NOT_NEEDED] = "",
        [PD_REASON_ALONE] = "no other keeps the day within its limits",
        [PD_REASON_LIKE_OTHERS] = "no other is better, and it is named first",
        [PD_REASON_SUCTION] = "it does not draw the main below the pressure of the air",
        [PD_REASON_STANDS] = "it stands more of what may be off than the others",
        [PD_REASON_COST] = "it costs less",
        [PD_REASON_STARTS] = "it starts less often at about the same cost",
        [PD_REASON_TAP_PRESSURE] = "the taps keep more pressure at about the same cost and starts",
    };
    _Static_assert(sizeof words / sizeof words[0] == PD_REASON_COUNT, "words for each reason");

    return words[reason];
}

static void write_figures(FILE *stream, const struct pd_setting *setting, const char *currency,
                          enum pd_unit_system units)
{
    char tap[PD_AMOUNT_MOST];

    pd_amount_text(tap, PD_KIND_PRESSURE, units, setting->day.lowest_tap_pressure);
    (void)fprintf(stream, "%.2f%s%s a day, %d starts, taps never below %s, stands %d of %d",
                  setting->day.cost, currency[0] != '\0' ? " " : "", currency, setting->day.starts,
                  tap, setting->stands, (int)PD_OFF_COUNT);
}

/* What pressure the taps were to hold, and whose wish that is. */
static void write_wanted(FILE *stream, const struct pd_scenario *scenario,
                         const struct pd_settings *settings, enum pd_unit_system units)
{
    char wanted[PD_AMOUNT_MOST];
    bool told = scenario->given[PD_DEMAND_WANTED_PRESSURE];

    pd_amount_text(wanted, PD_KIND_PRESSURE, units, settings->wanted);
    (void)fprintf(stream, "asked for at an open tap: %s (%s)\n", wanted,
                  told ? "demand.wanted_pressure"
                       : "the limit alone; say what is wanted by demand.wanted_pressure");
}

static void write_valve(FILE *stream, const struct pd_settings *settings, enum pd_unit_system units)
{
    char valve[PD_AMOUNT_MOST];

    pd_amount_text(valve, PD_KIND_PRESSURE, units, settings->reducing_valve);
    (void)fprintf(
        stream,
        "without a reducing valve none will do; all this is with one where the main comes "
        "in, set to %s\n  (a valve by its maker's data, fitted as the local code asks)\n",
        valve);
}

/* What the supply alone does not stand: there a booster would be needed after all. */
static void write_needed_if(FILE *stream, const struct pd_setting *setting,
                            const struct pd_settings_options *options)
{
    char words[PD_OFF_WORDS_MOST], lowest[PD_AMOUNT_MOST];
    bool any = false;

    for (enum pd_off off = 0; off < PD_OFF_COUNT; off++) {
        const struct pd_outcome *outcome = &setting->off[off];
        if (!outcome->good) {
            pd_off_words(words, off, options);
            pd_amount_text(lowest, PD_KIND_PRESSURE, options->units, outcome->lowest_tap_pressure);
            (void)fprintf(stream, "  one is needed %s:\n    taps down to %s (%s)\n", words, lowest,
                          outcome->verdict);
            any = true;
        }
    }
    if (!any) {
        (void)fprintf(stream, "  nor with anything off that was tried (the table above)\n");
    }
}

static void write_not_needed(FILE *stream, const struct pd_settings *settings,
                             const struct pd_settings_options *options)
{
    enum pd_unit_system units = options->units;
    char wanted[PD_AMOUNT_MOST], lowest[PD_AMOUNT_MOST];

    pd_amount_text(wanted, PD_KIND_PRESSURE, units, settings->wanted);
    (void)fprintf(stream, "no booster needed at this tap pressure: the supply alone holds %s\n",
                  wanted);
    for (size_t i = 0; i < settings->count; i++) {
        const struct pd_setting *setting = &settings->setting[i];
        if (setting->found && !setting->day.ran) {
            pd_amount_text(lowest, PD_KIND_PRESSURE, units, setting->day.lowest_tap_pressure);
            (void)fprintf(stream, "  under %s the pump never runs, taps never below %s%s\n",
                          setting->strategy.kind->name, lowest,
                          setting->day.lowest_tap_pressure < settings->wanted
                              ? " (less than is asked for, for moments only)"
                              : "");
            write_needed_if(stream, setting, options);
        }
    }
}

void pd_settings_write_reason(FILE *stream, const struct pd_scenario *scenario,
                              const struct pd_settings *settings,
                              const struct pd_settings_options *options)
{
    enum pd_unit_system units = options->units;

    write_wanted(stream, scenario, settings, units);
    if (!isnan(settings->reducing_valve)) {
        write_valve(stream, settings, units);
    }
    if (settings->reason == PD_REASON_NOT_NEEDED) {
        write_not_needed(stream, settings, options);
        return;
    }
    if (settings->preferred == settings->count) {
        (void)fprintf(stream, "none will do: with the usual settings and the largest tank\n");
        for (size_t i = 0; i < settings->count; i++) {
            const struct pd_setting *setting = &settings->setting[i];
            (void)fprintf(stream, "  %-15s %s\n", setting->strategy.kind->name,
                          setting->day.verdict);
        }
        return;
    }
    const struct pd_setting *best = &settings->setting[settings->preferred];
    (void)fprintf(stream, "preferred: %s, since %s:\n", best->strategy.kind->name,
                  reason_words(settings->reason));
    for (size_t i = 0; i < settings->count; i++) {
        const struct pd_setting *setting = &settings->setting[i];
        (void)fprintf(stream, "  %-15s ", setting->strategy.kind->name);
        if (setting->found) {
            write_figures(stream, setting, scenario->currency, units);
        } else {
            (void)fprintf(stream, "will not do with any tank: %s", setting->day.verdict);
        }
        (void)fputc('\n', stream);
    }
}
