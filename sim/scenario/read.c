/* Reads a scenario from the files of its folder, and takes single items over them. */
#include "scenario/read.h"

#include "base/text.h"
#include "scenario/path.h"
#include "scenario/table.h"

#include <pumpday/scenario.h>

#include <string.h>

enum { SHOWN = 48, VALUE_MOST = 256 };

// `ITEM=VALUE` cut in two; false and a fault if it is not of that form
static bool split_override(const char *override, char *name, char *value, struct pd_faults *faults)
{
    char shown[SHOWN];
    const char *sign = strchr(override, '=');
    pd_text_show(shown, sizeof shown, override);
    if (sign == NULL) {
        return pd_faults_add(faults, NULL, 0, NULL,
                             "malformed override, got \"%s\", expected ITEM=VALUE", shown);
    }
    if (!pd_text_trim(name, PD_NAME_MOST, override, (size_t)(sign - override)) ||
        !pd_text_trim(value, VALUE_MOST, sign + 1, strlen(sign + 1))) {
        return pd_faults_add(faults, NULL, 0, NULL,
                             "the override is too long, got \"%s\", expected ITEM=VALUE", shown);
    }
    return true;
}

bool pd_scenario_set(struct pd_scenario *scenario, const char *override, struct pd_faults *faults)
{
    char name[PD_NAME_MOST] = "";
    char value[VALUE_MOST] = "";
    char shown[SHOWN];
    if (!split_override(override, name, value, faults)) {
        return false;
    }
    enum pd_item item = pd_item_find(name);
    pd_text_show(shown, sizeof shown, name);
    if (item == PD_ITEM_COUNT) {
        const char *nearest = pd_item_nearest(name);
        return pd_faults_add(faults, NULL, 0, shown, "unknown item, got \"%s\", expected %s%s",
                             shown,
                             nearest != NULL ? "perhaps " : "one of those told by `pumpday items`",
                             nearest != NULL ? nearest : "");
    }
    struct pd_place place = {.item = pd_items[item].name, .faults = faults};
    // nothing behind the sign brings the default back, as none does
    bool none = value[0] == '\0' && pd_items[item].kind != PD_KIND_TEXT;
    return pd_item_take(scenario, item, &place, none ? NULL : value, "");
}

// false and a fault unless there is a folder
static bool folder_stands(const char *folder, struct pd_faults *faults)
{
    char path[PD_PATH_MOST];
    // room for the names of the files too
    if (!pd_path_join(path, folder, "household.csv")) {
        return pd_faults_add(faults, NULL, 0, NULL, "the path of the folder is too long");
    }
    switch (pd_presence_of(folder)) {
    case PD_ABSENT:
        return pd_faults_add(faults, folder, 0, NULL, "there is no such folder");
    case PD_FILE:
    case PD_OTHER:
        return pd_faults_add(faults, folder, 0, NULL,
                             "is no folder, expected a folder with site.csv and pump.csv");
    case PD_FOLDER:
    case PD_UNKNOWN:
        break;
    }
    return true;
}

// all files, however many faults are in them; returns the parts whose checks make sense
static unsigned read_files(struct pd_scenario *scenario, struct pd_faults *faults)
{
    unsigned parts = 0;
    bool rows_read = false;
    (void)pd_read_site(scenario, &rows_read, faults);
    parts |= rows_read ? PD_PART_SITE : 0U;
    parts |= pd_read_pump(scenario, faults) ? PD_PART_PUMP : 0U;
    bool demand = pd_read_demand(scenario, faults);
    demand = pd_read_profile(scenario, faults) && demand;
    demand = pd_read_household(scenario, faults) && demand;
    parts |= demand ? PD_PART_DEMAND : 0U;
    parts |= pd_read_supply(scenario, faults) ? PD_PART_SUPPLY : 0U;
    (void)pd_read_tariff(scenario, faults);
    return parts;
}

// a household without draws of its own has those of its first day; false after a fault
static bool first_day(struct pd_scenario *scenario, struct pd_faults *faults)
{
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};
    if (scenario->use_count == 0 || scenario->draw_count > 0 || scenario->profile_count > 0) {
        return true;
    }
    if (!pd_household_day(scenario->uses, scenario->use_count, NULL, 1, 1, &draws, &error)) {
        pd_draws_free(&draws);
        return pd_faults_add(faults, scenario->folder, 0, "household.csv", "%s", error.text);
    }
    scenario->draws = draws.draw;
    scenario->draw_count = draws.count;
    scenario->drawn = true;
    return true;
}

// a price without a currency has that of the tariff; false and a fault where they differ
static bool one_currency(struct pd_scenario *scenario, struct pd_faults *faults)
{
    char path[PD_PATH_MOST];
    const char *tariff = scenario->tariff_currency;
    if (tariff[0] == '\0' || strcmp(tariff, scenario->currency) == 0) {
        return true;
    }
    if (scenario->currency[0] == '\0') {
        memcpy(scenario->currency, tariff, sizeof scenario->currency);
        return true;
    }
    (void)pd_path_join(path, scenario->folder, "tariff.csv");
    return pd_faults_add(faults, path, 0, "price",
                         "another currency, got \"%s\", expected %s as in energy.price", tariff,
                         scenario->currency);
}

// a scenario without a title goes by its folder's name
static void title_by_folder(struct pd_scenario *scenario)
{
    char path[PD_PATH_MOST];
    if (scenario->title[0] != '\0' || !pd_path_join(path, scenario->folder, NULL)) {
        return;
    }
    const char *stroke = strrchr(path, '/');
    pd_text_show(scenario->title, sizeof scenario->title, stroke != NULL ? stroke + 1 : path);
}

bool pd_scenario_read(const char *folder, const char *const *overrides, size_t override_count,
                      struct pd_scenario *scenario, struct pd_faults *faults)
{
    size_t before = faults->count;
    *scenario = pd_scenario_default();
    if (folder_stands(folder, faults)) {
        (void)pd_path_join(scenario->folder, folder, NULL);
        unsigned parts = read_files(scenario, faults);
        for (size_t i = 0; i < override_count; i++) {
            (void)pd_scenario_set(scenario, overrides[i], faults);
        }
        pd_check_parts(scenario, parts, faults);
        (void)one_currency(scenario, faults);
        // faults of the household itself were told
        if (faults->count == before) {
            (void)first_day(scenario, faults);
        }
        title_by_folder(scenario);
    }
    if (faults->count != before) {
        pd_scenario_free(scenario);
        return false;
    }
    return true;
}
