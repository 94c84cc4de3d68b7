/* The usual household: figures fitted to two open records of draws, and hours of use.
 *
 * 2019: a flat with one occupant, 221 days; A. Di Mauro, S. Venticinque, G. F. Santonastaso, A. Di
 * Nardo, "WEUSEDTO: Water End USE Dataset and TOols", CC BY 4.0 (Di Mauro et al., ICCCN 2019).
 * 2020: a house of five, 13 whole days, metered at the inlet; Utah Center for Hydrologic
 * Information and Computing, CIWS-VisChallenge, Classified_Events, BSD 3-Clause. Each figure lies
 * between those of the two records per person, mostly at their mean. */
#include <pumpday/household.h>

#include <math.h>
#include <string.h>

#define LITRE_A_MINUTE (1e-3 / 60)
#define LITRE 1e-3

struct profile {
    const char *name;
    double weight[PD_USE_HOURS];
};

/* Shares of a day's draws by the hour of their begin, in thousandths: the mean of both records' (of
 * dishes the one that has them), smoothed over neighbouring hours where there are few. */
static const struct profile profiles[] = {
    {"even", {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},
    {"taps",
     {15, 9, 6, 6, 4, 1, 2, 51, 93, 91, 57, 55, 62, 56, 54, 48, 44, 66, 61, 38, 54, 67, 35, 24}},
    {"wc",
     {31, 9, 6, 7, 5, 4, 3, 49, 92, 77, 62, 52, 55, 51, 64, 54, 48, 45, 38, 56, 46, 55, 57, 35}},
    {"shower",
     {10, 5, 5, 3, 2, 2, 19, 72, 114, 100, 75, 62, 37, 21, 33, 56, 68, 61, 52, 49, 46, 46, 40, 23}},
    {"laundry",
     {0, 0, 0, 0, 0, 0, 0, 17, 92, 192, 206, 143, 85, 43, 20, 25, 45, 51, 28, 11, 17, 17, 6, 0}},
    {"dishes",
     {45, 45, 17, 0, 0, 0, 6, 28, 57, 57, 40, 28, 28, 40, 51, 51, 23, 23, 57, 68, 74, 97, 102, 62}},
};

enum { PROFILES = sizeof profiles / sizeof profiles[0] };

const double *pd_hours_find(const char *name)
{
    for (size_t i = 0; i < PROFILES; i++) {
        if (strcmp(profiles[i].name, name) == 0) {
            return profiles[i].weight;
        }
    }
    return NULL;
}

const char *pd_hours_name(size_t place)
{
    return place < PROFILES ? profiles[place].name : NULL;
}

/* A use of one person, in litres and seconds; NAN: draws end by the other. */
struct usual {
    const char *name;
    double draws, flow, flow_spread, duration, volume, spread;
    double weekday, weekend, day_spread, cluster, gap;
};

static const struct usual usual[] = {
    // a day and person: 23.0 draws and 19.0 L in 2019, 6.0 and 10.9 L in 2020; flows 2.1 and 3.7
    // L/min, spreads 0.6 and 0.3; durations 23 and 29 s, spreads 1.5 and 1.0; clusters (gaps under
    // 5
    // minutes) of 2.0 and 1.8 draws, 94 and 90 s apart; counts of a day with a variance of 10.8
    // times
    // the mean in both, of which clusters explain 2.8
    {"taps", 14.5, 2.9, 0.5, 21.5, NAN, 1.3, 1, 1, 0.55, 1.9, 92},
    // 3.3 and 4.1 draws; of volume and flow 2020 alone (in 2019 set by the source): 9.85 L, spread
    // 0.40, 10.7 L/min, spread 0.34; counts of a day 1.5 and 9.5 times the mean
    {"wc", 3.7, 10.7, 0.34, NAN, 9.85, 0.4, 1, 1, 0.4, 1.25, 80},
    // 0.86 showers of 18 L (pauses left out) and 0.48 of 69 L; flows 4.1 and 7.0 L/min
    {"shower", 0.67, 5.6, 0.35, 390, NAN, 0.7, 1, 1, 0, 1, 0},
    // 0.05 loads of 48 L in 13 fills, and 0.32 of 51 L in one; flows 8.8 and 10.7 L/min; weekend
    // days
    // have 2.8 and 1.1 times the loads of weekdays
    {"laundry", 0.925, 9.7, 0.15, NAN, 9.8, 0.6, 0.85, 1.4, 0, 5, 500},
    // 0.2 loads of 10.2 L in 2019; the flow of hot draws of the Building America generator, 1.39
    // gpm
    // with a spread of 0.14 (Hendron and Burch, ASME ES2007); fills and their pause: from memory
    {"dishes", 0.6, 5.3, 0.14, NAN, 3.4, 0.2, 1, 1, 0, 3, 900},
};

enum { USUAL = sizeof usual / sizeof usual[0] };

static struct pd_use use_for(const struct usual *of, double dwellings, double people)
{
    struct pd_use use = {
        .draws_per_day = of->draws * dwellings * people,
        .flow = of->flow * LITRE_A_MINUTE,
        .flow_spread = of->flow_spread,
        .duration = of->duration,
        .volume = of->volume * LITRE,
        .spread = of->spread,
        .law = PD_LAW_LOGNORMAL,
        .weekday = of->weekday,
        .weekend = of->weekend,
        // the days of one dwelling are not those of the next
        .day_spread = of->day_spread / sqrt(fmax(dwellings, 1.0)),
        .cluster = of->cluster,
        .gap = of->gap,
    };
    const double *weight = pd_hours_find(of->name);
    double sum = 0;

    for (size_t i = 0; of->name[i] != '\0'; i++) {
        use.name[i] = of->name[i];
    }
    for (int i = 0; i < PD_USE_HOURS; i++) {
        sum += weight[i];
    }
    for (int i = 0; i < PD_USE_HOURS; i++) {
        use.hours[i] = weight[i] / sum;
    }
    return use;
}

size_t pd_household_usual(double dwellings, double people, struct pd_use uses[PD_USES_MOST])
{
    for (size_t i = 0; i < USUAL; i++) {
        uses[i] = use_for(&usual[i], dwellings, people);
    }
    return USUAL;
}
