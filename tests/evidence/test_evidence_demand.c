/* The usual household's days against the records that it is fitted to, and the flow of many
 * dwellings against published design flows.
 *
 * Records: a flat with one occupant, 221 days of 2019 (A. Di Mauro, S. Venticinque, G. F.
 * Santonastaso, A. Di Nardo, WEUSEDTO, CC BY 4.0); a house of five, 13 whole days of 2020 (Utah
 * Center for Hydrologic Information and Computing, CIWS-VisChallenge, BSD 3-Clause; hose and
 * watering left out).  The figures here were worked out from them; neither is part of the project.
 * The household is fitted to both per person, so it hits neither: the tolerances say how far off it
 * is. */
#include <pumpday/household.h>

#include "evidence/evidence.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

void suite_evidence_demand(void);

enum { DAY = 86400, BUSY_FROM = 8 * 3600, BUSY_TO = 10 * 3600, TENTHS_MOST = 20000 };

static const struct evidence_source flat = {"record of one flat, 2019", EVIDENCE_COMPUTED};
static const struct evidence_source house = {"record of a house of five, 2020", EVIDENCE_COMPUTED};

/* Means over days, flows in L/min. */
struct demand {
    double litres, draws, second, minute, hour; /* a day; its greatest mean flow over so long */
    double design;                              /* exceeded 1 % of the time from 8 to 10 o'clock */
};

/* The flow of each second of a day [L/min], a draw at its rated flow. */
static void add_flows(const struct pd_draws *draws, double flow[DAY])
{
    memset(flow, 0, DAY * sizeof flow[0]);
    for (size_t i = 0; i < draws->count; i++) {
        const struct pd_draw *draw = &draws->draw[i];
        double duration = isnan(draw->volume) ? draw->duration : draw->volume / draw->flow;
        int from = (int)draw->time, to = (int)(draw->time + duration + 0.5);
        for (int at = from; at < (to > from ? to : from + 1) && at < DAY; at++) {
            flow[at] += draw->flow * 6e4;
        }
    }
}

/* The greatest mean over spans of so many seconds that follow each other. */
static double greatest(const double flow[DAY], int span)
{
    double most = 0;

    for (int at = 0; at < DAY; at += span) {
        double sum = 0;
        for (int i = 0; i < span; i++) {
            sum += flow[at + i];
        }
        most = fmax(most, sum / span);
    }
    return most;
}

/* The flow that a hundredth of some seconds exceeds, to a tenth. */
static double exceeded_by_a_hundredth(const long count[TENTHS_MOST], long all)
{
    long above = 0;
    int at = TENTHS_MOST - 1;

    while (at > 0 && above < all / 100) {
        above += count[at--];
    }
    return at / 10.0;
}

static struct demand demand_of(double dwellings, double people, int days)
{
    static double flow[DAY];
    static long count[TENTHS_MOST];
    struct pd_use uses[PD_USES_MOST];
    size_t use_count = pd_household_usual(dwellings, people, uses);
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};
    struct demand demand = {0};

    memset(count, 0, sizeof count);
    for (int day = 1; day <= days; day++) {
        CU_ASSERT_FATAL(pd_household_day(uses, use_count, NULL, 1, day, &draws, &error));
        add_flows(&draws, flow);
        demand.litres += greatest(flow, DAY) * 1440 / days;
        demand.draws += (double)draws.count / days;
        demand.second += greatest(flow, 1) / days;
        demand.minute += greatest(flow, 60) / days;
        demand.hour += greatest(flow, 3600) / days;
        for (int at = BUSY_FROM; at < BUSY_TO; at++) {
            count[(int)fmin(flow[at] * 10, TENTHS_MOST - 1)]++;
        }
    }
    pd_draws_free(&draws);
    demand.design = exceeded_by_a_hundredth(count, (long)days * (BUSY_TO - BUSY_FROM));
    return demand;
}

/* One person and five: volumes within a seventh of the records', draws between those of the two,
 * greatest flows of the house of five; those of the flat are of a cistern that its source lets fill
 * at 2 L/min, so its hour alone can be compared. */
static void days_are_like_the_records(void)
{
    struct demand one = demand_of(1, 1, 400), five = demand_of(1, 5, 400);

    evidence_part(EVIDENCE_DEMAND);
    evidence_check("water a day of one person", &flat, 78.8, one.litres, "L", 11);
    evidence_check("water a day of five people", &house, 500, five.litres, "L", 72);
    evidence_at_most("draws a day and person, against the flat", &flat, 28.4, one.draws, "");
    evidence_at_least("draws a day and person, against the house", &house, 10.9, five.draws / 5,
                      "");
    evidence_check("greatest flow over an hour, mean of days, one person", &flat, 0.53, one.hour,
                   "L/min", 0.12);
    evidence_check("greatest flow over a second, five people, middle day", &house, 20.9,
                   five.second, "L/min", 3);
    evidence_check("greatest flow over a minute, five people, middle day", &house, 13.2,
                   five.minute, "L/min", 2);
    evidence_check("greatest flow over an hour, five people, middle day", &house, 2.3, five.hour,
                   "L/min", 0.9);
}

/* Design flows by fixture units: a bathroom group 3.6, kitchen sink and laundry 1.4 each (IPC Table
 * E103.3(2)), so 6.4 a dwelling; the curve of Illinois 77 Adm. Code 890 Table N, linear between its
 * points.  Hunter's curve (NBS Building Materials and Structures BMS 65) is for congested use and
 * lies over what is measured in dwellings: the household must stay under it. */
static const struct evidence_source hunter = {"Illinois 77 Adm. Code 890 Table N (Hunter's curve)",
                                              EVIDENCE_PRINTED};

static double hunter_gpm(double units)
{
    static const double curve[][2] = {{4, 3},    {8, 6.5},   {14, 10.4},  {20, 14},  {30, 20},
                                      {40, 25},  {50, 29},   {100, 43.5}, {160, 57}, {200, 65},
                                      {300, 85}, {500, 125}, {1000, 208}};

    for (size_t i = 1; i < sizeof curve / sizeof curve[0]; i++) {
        if (units <= curve[i][0]) {
            double share = (units - curve[i - 1][0]) / (curve[i][0] - curve[i - 1][0]);
            return curve[i - 1][1] + share * (curve[i][1] - curve[i - 1][1]);
        }
    }
    return NAN;
}

/* The peak flow of dwellings by DIN 1988-300: V = 1.48 (sum of the calculated flows)^0.19 - 0.94,
 * in L/s, from 0.2 to 500 L/s; a dwelling with WC 0.13, basin 0.07, kitchen sink 0.07, shower 0.15,
 * washing machine 0.15 and dishwasher 0.07.  All from memory. */
static const struct evidence_source din = {"DIN 1988-300, dwellings",
                                           EVIDENCE_FROM_MEMORY | EVIDENCE_COMPUTED};

static double din_flow(double dwellings)
{
    return 60 * (1.48 * pow(0.64 * dwellings, 0.19) - 0.94);
}

static void many_dwellings_stay_under_design_flows(void)
{
    static const int dwellings[] = {1, 10, 50, 100};
    double before = INFINITY;

    evidence_part(EVIDENCE_DEMAND);
    for (size_t i = 0; i < sizeof dwellings / sizeof dwellings[0]; i++) {
        int n = dwellings[i];
        struct demand demand = demand_of(n, 2.3, n < 50 ? 200 : 60);
        evidence_at_most(evidence_text("flow exceeded 1 %% of the busy hours, %d dwellings", n),
                         &hunter, hunter_gpm(6.4 * n) * 3.785411784, demand.design, "L/min");
        evidence_at_most(evidence_text("the same, %d dwellings", n), &din, din_flow(n),
                         demand.design, "L/min");
        evidence_at_most(evidence_text("a day's greatest flow over a second, %d dwellings", n),
                         &din, din_flow(n), demand.second, "L/min");
        // the more there are, the less each adds
        CU_ASSERT(demand.design / n < before);
        before = demand.design / n;
    }
    // there the formula, flat for large sums, is passed: all dwellings here keep the same hours
    evidence_check("flow exceeded 1 % of the busy hours, 500 dwellings", &din, din_flow(500),
                   demand_of(500, 2.3, 15).design, "L/min", 0.25 * din_flow(500));
}

void suite_evidence_demand(void)
{
    CU_pSuite suite = CU_add_suite("evidence_demand", NULL, NULL);

    CU_ADD_TEST(suite, days_are_like_the_records);
    CU_ADD_TEST(suite, many_dwellings_stay_under_design_flows);
}
