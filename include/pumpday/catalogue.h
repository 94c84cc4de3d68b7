/* Pumps and tanks on offer, with their prices. */
#ifndef PUMPDAY_CATALOGUE_H
#define PUMPDAY_CATALOGUE_H

#include <pumpday/scenario.h>

enum { PD_OFFERS_MOST = 40, PD_OFFER_NAME_MOST = 32 };

struct pd_pump_offer {
    char name[PD_OFFER_NAME_MOST];
    struct pd_pump_points points;
    double motor_power; /* W at the shaft; NAN: not told */
    double price;       /* with its controller */
};

struct pd_tank_offer {
    char name[PD_OFFER_NAME_MOST];
    double volume;         /* m3 */
    double rated_pressure; /* Pa gauge; NAN: not told */
    double price;
};

/* No pumps, or no tanks: the scenario's own. */
struct pd_catalogue {
    struct pd_pump_offer pumps[PD_OFFERS_MOST];
    size_t pump_count;
    struct pd_tank_offer tanks[PD_OFFERS_MOST];
    size_t tank_count;
};

/* Reads a file of pumps (name, file, price, motor_power [kW]; `file` holds the points as pump.csv
 * does, its path from the folder of this one) or of tanks (name, volume [L], price, rated_pressure
 * [bar]).  False and every fault otherwise. */
bool pd_catalogue_read_pumps(const char *path, struct pd_catalogue *catalogue,
                             struct pd_faults *faults);
bool pd_catalogue_read_tanks(const char *path, struct pd_catalogue *catalogue,
                             struct pd_faults *faults);

#endif
