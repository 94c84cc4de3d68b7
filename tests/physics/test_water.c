/* Water by the IAPWS releases, held against the verification values printed in them and against a
 * table computed from them. */
#include <pumpday/water.h>

#include "physics/near.h"
#include "physics/published.h"

#include <CUnit/CUnit.h>

void suite_water(void);

/* IAPWS R7-97(2012), Table 5 (300 K and 500 K). */
static void region_1_verification_values(void)
{
    CU_ASSERT(near(pd_water_specific_volume(300, 3e6), 0.00100215168, 5e-9));
    CU_ASSERT(near(pd_water_specific_volume(300, 80e6), 0.000971180894, 5e-10));
    CU_ASSERT(near(pd_water_compressibility(500, 3e6), 0.00112892188e-6, 5e-9));
}

/* IAPWS R7-97(2012), Table 35. */
static void region_4_verification_values(void)
{
    CU_ASSERT(near(pd_water_saturation_pressure(300), 0.00353658941e6, 2e-9));
    CU_ASSERT(near(pd_water_saturation_pressure(500), 2.63889776e6, 2e-9));
    CU_ASSERT(near(pd_water_saturation_pressure(600), 12.3443146e6, 5e-9));
}

/* IAPWS R12-08, Table 4. */
static void viscosity_verification_values(void)
{
    CU_ASSERT(near(pd_water_viscosity(998, 298.15), 889.735100e-6, 1e-9));
    CU_ASSERT(near(pd_water_viscosity(1200, 298.15), 1437.649467e-6, 1e-9));
}

/* Computed from IAPWS R7-97(2012) and R12-08 at 0.101325 MPa by another program. */
static void water_at_atmospheric_pressure(void)
{
    for (size_t i = 0; i < WATER_ROWS; i++) {
        struct pd_water water = pd_water_at(water_rows[i].celsius + 273.15, 101325);
        CU_ASSERT(within(water.density, water_rows[i].density, 0.0006));
        CU_ASSERT(within(water.viscosity, water_rows[i].viscosity, 0.006e-6));
        CU_ASSERT(within(water.vapour_pressure, water_rows[i].vapour_pressure, 0.006));
        CU_ASSERT(within(water.bulk_modulus, water_rows[i].bulk_modulus, 0.00006e9));
    }
    // at the pressure of a house (0.5 MPa) a little denser; computed as the table
    CU_ASSERT(within(pd_water_at(293.15, 0.5e6).density, 998.388, 0.0006));
}

static double volume_over_pressure(double pressure, const void *temperature)
{
    return pd_water_specific_volume(*(const double *)temperature, pressure);
}

/* The compressibility is by definition -(1/v) dv/dp. */
static void compressibility_is_the_slope_of_the_volume(void)
{
    static const double temperatures[] = {274, 283.15, 300, 333.15, 373};

    for (size_t i = 0; i < COUNT(temperatures); i++) {
        double t = temperatures[i];
        double slope = difference(volume_over_pressure, &t, 1e6, 2e5);
        CU_ASSERT(near(pd_water_compressibility(t, 1e6), -slope / pd_water_specific_volume(t, 1e6),
                       1e-8));
    }
}

void suite_water(void)
{
    CU_pSuite suite = CU_add_suite("water", NULL, NULL);

    CU_ADD_TEST(suite, region_1_verification_values);
    CU_ADD_TEST(suite, region_4_verification_values);
    CU_ADD_TEST(suite, viscosity_verification_values);
    CU_ADD_TEST(suite, water_at_atmospheric_pressure);
    CU_ADD_TEST(suite, compressibility_is_the_slope_of_the_volume);
}
