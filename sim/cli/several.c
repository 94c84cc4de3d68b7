#include "cli/several.h"

#include "cli/interrupt.h"

#include "base/text.h"

#include <string.h>
#include <unistd.h>

enum { SHOWN_MOST = 128, LONGEST_NUMBER = 6 };

/* The weight behind the last asterisk, which then ends the folder's name; 1 where there is none or
 * a folder has the whole as its name; 0 for what is no weight. */
static long cut_weight(char *folder)
{
    char *star = strrchr(folder, '*');
    double weight = 0;

    if (star == NULL || access(folder, F_OK) == 0) {
        return 1;
    }
    if (strlen(star) > LONGEST_NUMBER ||
        pd_text_number(star + 1, &weight, NULL) != PD_NUMBER_GOOD || weight < 1 ||
        weight > PD_WEIGHT_MOST || weight != (double)(long)weight) {
        return 0;
    }
    *star = '\0';
    return (long)weight;
}

static void cut_slashes(char *folder)
{
    size_t length = strlen(folder);

    while (length > 1 && folder[length - 1] == '/') {
        folder[--length] = '\0';
    }
}

static const char *last_part(const char *folder)
{
    const char *stroke = strrchr(folder, '/');

    return stroke != NULL && stroke[1] != '\0' ? stroke + 1 : folder;
}

/* Two folders with the same last part go by their whole paths. */
static void name_all(struct several *several)
{
    for (size_t i = 0; i < several->count; i++) {
        several->name[i] = last_part(several->folder[i]);
    }
    for (size_t i = 0; i < several->count; i++) {
        for (size_t k = 0; k < several->count; k++) {
            if (k != i &&
                strcmp(last_part(several->folder[i]), last_part(several->folder[k])) == 0) {
                several->name[i] = several->folder[i];
            }
        }
    }
}

int several_take(const struct usage *usage, struct several *several, const char *value)
{
    char shown[SHOWN_MOST];
    char *folder = several->folder[several->count < PD_SCENARIOS_MOST ? several->count : 0];

    pd_text_show(shown, sizeof shown, value);
    if (several->count == PD_SCENARIOS_MOST) {
        return usage_wrong(usage, "more than %d scenarios, got \"%s\" too", (int)PD_SCENARIOS_MOST,
                           shown);
    }
    if (strlen(value) >= PD_PATH_MOST) {
        return usage_wrong(usage, "the path of a scenario is too long, got \"%s\"", shown);
    }
    memcpy(folder, value, strlen(value) + 1);
    long weight = cut_weight(folder);
    cut_slashes(folder);
    if (weight == 0) {
        return usage_wrong(usage, "\"%s\": expected a whole number of days behind *, 1 to %d",
                           shown, (int)PD_WEIGHT_MOST);
    }
    for (size_t i = 0; i < several->count; i++) {
        if (strcmp(several->folder[i], folder) == 0) {
            return usage_wrong(usage, "\"%s\" is named twice; its days are told by %s*2", shown,
                               folder);
        }
    }
    several->list[several->count++].weight = (int)weight;
    return PD_DONE;
}

bool several_is_one(const struct several *several)
{
    return several->count == 1 && several->list[0].weight == 1;
}

int several_read(struct several *several, const struct sets *sets, enum pd_unit_system *own_units)
{
    bool good = true;

    name_all(several);
    for (size_t i = 0; i < several->count; i++) {
        if (!read_scenario(several->folder[i], sets, &several->scenario[i])) {
            several->scenario[i] = pd_scenario_default();
            good = false;
        }
        several->list[i].scenario = &several->scenario[i];
        several->list[i].name = several->name[i];
    }
    if (!good) {
        several_free(several);
        return PD_BAD_INPUT;
    }
    if (own_units != NULL) {
        *own_units = pd_scenario_units(&several->scenario[0]);
    }
    interrupt_watch();
    return PD_DONE;
}

void several_free(struct several *several)
{
    for (size_t i = 0; i < several->count; i++) {
        pd_scenario_free(&several->scenario[i]);
    }
}
