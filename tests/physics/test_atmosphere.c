/* The standard atmosphere of ISO 2533. */
#include <pumpday/water.h>

#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_atmosphere(void);

/* Computed from the formula and constants of ISO 2533:1975 (lapse rate 6.5 K/km). */
static void pressure_at_geopotential_height(void)
{
    for (size_t i = 0; i < AIR_ROWS; i++) {
        CU_ASSERT(within(pd_atmosphere_pressure(air_rows[i].height), air_rows[i].pressure, 0.06));
    }
}

/* Tabulated in ISO 2533:1975 for geometric heights, value from memory; the geopotential height is
 * r h / (r + h) with r = 6356766 m. */
static void pressure_at_geometric_height(void)
{
    for (size_t i = 0; i < GEOMETRIC_ROWS; i++) {
        double height = published_geopotential(geometric_rows[i].height);
        CU_ASSERT(within(pd_atmosphere_pressure(height), geometric_rows[i].pressure, 0.6));
    }
}

/* Rounded pressures that worked examples use: R. Pelikan, National Driller, Feb 2006: 11.8 psi at
 * 6000 ft; L. Bachus and A. Custodio, Know and Understand Centrifugal Pumps, 2003: 26.2 ft of water
 * at 7000 ft. */
static void pressures_of_worked_examples(void)
{
    const double foot = 0.3048, psi = 6894.757;

    CU_ASSERT(within(pd_atmosphere_pressure(6000 * foot) / psi, 11.8, 0.05));
    CU_ASSERT(within(pd_atmosphere_pressure(7000 * foot) / (1000 * PD_GRAVITY * foot), 26.2, 0.05));
}

static double pressure_over_height(double height, const void *unused)
{
    (void)unused;
    return pd_atmosphere_pressure(height);
}

/* A column of air at rest: dp/dh = -p g / (R T), with ISO 2533's R = 287.05287 J/(kg K). */
static void air_carries_its_own_weight(void)
{
    for (double height = -500; height <= 11000; height += 500) {
        double temperature = 288.15 - 0.0065 * height;
        double weight = pd_atmosphere_pressure(height) * PD_GRAVITY / (287.05287 * temperature);
        CU_ASSERT(near(difference(pressure_over_height, NULL, height, 10), -weight, 1e-8));
    }
}

void suite_atmosphere(void)
{
    CU_pSuite suite = CU_add_suite("atmosphere", NULL, NULL);

    CU_ADD_TEST(suite, pressure_at_geopotential_height);
    CU_ADD_TEST(suite, pressure_at_geometric_height);
    CU_ADD_TEST(suite, pressures_of_worked_examples);
    CU_ADD_TEST(suite, air_carries_its_own_weight);
}
