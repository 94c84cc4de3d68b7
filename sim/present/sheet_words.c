/* What the parts of a commissioning sheet say alike: quantities, and two questions to the sheet. */
#include "present/sheet_parts.h"

#include "output/amount.h"

#include <math.h>
#include <string.h>

const char *sheet_amount(char text[SHEET_VALUE_MOST], const struct filler *filler,
                         enum pd_kind kind, double si)
{
    char plain[PD_AMOUNT_MOST];

    pd_amount_text(plain, kind, filler->units, si);
    (void)snprintf(text, SHEET_VALUE_MOST, "%s", plain);
    char *degrees = strstr(text, "deg");
    if (degrees != NULL) {
        (void)snprintf(degrees, 4, "\xC2\xB0%c", filler->units == PD_UNITS_US ? 'F' : 'C');
    }
    return text;
}

const char *sheet_pressure(char text[SHEET_VALUE_MOST], const struct filler *filler, double si)
{
    return sheet_amount(text, filler, PD_KIND_PRESSURE, si);
}

bool sheet_is_switch(const struct filler *filler)
{
    return !isnan(filler->sheet->strategy.stop_pressure);
}

bool sheet_precharge_is_wrong(const struct filler *filler)
{
    const struct pd_sheet *sheet = filler->sheet;

    for (size_t i = 0; i < sheet->findings.count; i++) {
        const struct pd_finding *line = &sheet->findings.list[i];
        if (line->level == PD_LEVEL_FAIL && line->fault == PD_FAULT_PRECHARGE) {
            return true;
        }
    }
    // a rating that is not known is NAN, and compares as false
    return sheet->strategy.precharge > sheet->rated;
}
