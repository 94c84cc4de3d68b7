/* What the tests' own integration with GSL takes for a day of a scenario, at the tolerance at which
 * it is held beside the program: `day SCENARIO STRATEGY STARTS STEPS 0 MILLISECONDS`. */
#include "reference/reference_day.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

static const double tolerance = 1e-8;

int main(int argc, char **argv)
{
    static const char *const strategies[] = {"pressure-start", "flow-start", "peak-only"};
    static struct pd_faults faults;
    static struct reference_result result;
    struct pd_scenario scenario;
    char why[200] = "";
    bool good = argc == 2 && pd_scenario_read(argv[1], NULL, 0, &scenario, &faults);

    for (size_t i = 0; good && i < sizeof strategies / sizeof strategies[0]; i++) {
        clock_t began = clock();
        good = reference_day(&scenario, strategies[i], tolerance, &result, why, sizeof why);
        const char *stroke = strrchr(argv[1], '/');
        printf("day %s %s %d %ld 0 %.4f\n", stroke != NULL ? stroke + 1 : argv[1], strategies[i],
               result.starts, result.steps, 1e3 * (double)(clock() - began) / CLOCKS_PER_SEC);
    }
    if (!good) {
        (void)fprintf(stderr, "%s\n", why);
    }
    return good ? 0 : 1;
}
