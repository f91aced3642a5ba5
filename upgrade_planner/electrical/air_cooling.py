"""Heat that a horizontal cylinder, such as a wire, gives to still air and to its surroundings."""

from math import inf, pi

ZERO_C_IN_K = 273.15  # [K] by definition
GRAVITY_M_PER_S2 = 9.80665  # [m/s²] standard acceleration of free fall, by definition
STEFAN_BOLTZMANN_W_PER_M2_K4 = 5.670374e-8  # [W/(m²·K⁴)] CODATA 2018
PRESSURE_PA = 101325.0  # [Pa] U.S. Standard Atmosphere 1976, sea level
AIR_GAS_CONSTANT_J_PER_KG_K = 287.053  # [J/(kg·K)] U.S. Standard Atmosphere 1976
AIR_HEAT_J_PER_KG_K = 1006.0  # [J/(kg·K)] textbook value near room temperature (from memory)
# Insulation of any colour; our assumption, usual for plastics in the infrared. [1]
EMISSIVITY_RATIO = 0.9


def heat_given_off(outside_m: float, surface_c: float, ambient_c: float) -> float:
    """
    Heat that a horizontal cylinder gives to still air and to surroundings as warm as the air.

    q = π D [h (Ts - Ta) + ε σ (Ts⁴ - Ta⁴)], with h from `convection_coefficient`.

    Args:
        outside_m: Outside diameter D. [m]
        surface_c: Temperature of the surface, not below ambient_c. [°C]
        ambient_c: Temperature of air and surroundings. [°C]

    Returns:
        Heat per metre of length. [W/m]

    Raises:
        ValueError: As at `convection_coefficient`.

    Source:
        Convection as at `convection_coefficient`; radiation by the Stefan-Boltzmann law with
        emissivity 0.9 (our assumption).
    """
    convected = convection_coefficient(outside_m, surface_c, ambient_c) * (surface_c - ambient_c)
    surface_k, ambient_k = surface_c + ZERO_C_IN_K, ambient_c + ZERO_C_IN_K
    radiated = EMISSIVITY_RATIO * STEFAN_BOLTZMANN_W_PER_M2_K4 * (surface_k**4 - ambient_k**4)
    return pi * outside_m * (convected + radiated)


def convection_coefficient(outside_m: float, surface_c: float, ambient_c: float) -> float:
    """
    Mean coefficient of natural convection around a horizontal cylinder in air.

    Nu = {0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}², air at the mean temperature;
    Ra up to 1e12. Thin wires lie at Ra of 1 to 100, where Morgan's piecewise fit gives 10 to 25 %
    more; this one is smooth and on the safe side.

    Args:
        outside_m: Diameter of the cylinder. [m]
        surface_c: Temperature of the surface, not below ambient_c. [°C]
        ambient_c: Temperature of the air. [°C]

    Returns:
        Coefficient of heat transfer. [W/(m²·K)]

    Raises:
        ValueError: outside_m is not above zero, or surface_c is below ambient_c.

    Source:
        S. W. Churchill and H. H. S. Chu, International Journal of Heat and Mass Transfer 18 (1975),
        p. 1049, as given in textbooks of heat transfer (from memory; checked against an independent
        implementation). Air: U.S. Standard Atmosphere 1976, equations of viscosity and of thermal
        conductivity, ideal gas.
    """
    if not 0 < outside_m < inf:
        raise ValueError(f"outside_m: a finite length above 0 is wanted, found {outside_m:g}")
    if not ambient_c <= surface_c < inf:
        raise ValueError(f"surface_c: {ambient_c:g} °C or more is wanted, found {surface_c:g}")
    film_k = (surface_c + ambient_c) / 2 + ZERO_C_IN_K
    conductivity = air_conductivity(film_k)
    density = PRESSURE_PA / (AIR_GAS_CONSTANT_J_PER_KG_K * film_k)
    viscosity_m2_per_s = air_viscosity(film_k) / density
    diffusivity_m2_per_s = conductivity / (density * AIR_HEAT_J_PER_KG_K)
    rayleigh = (
        GRAVITY_M_PER_S2
        * ((surface_c - ambient_c) / film_k)
        * outside_m**3
        / (viscosity_m2_per_s * diffusivity_m2_per_s)
    )
    prandtl = viscosity_m2_per_s / diffusivity_m2_per_s
    return nusselt_number(rayleigh, prandtl) * conductivity / outside_m


def nusselt_number(rayleigh: float, prandtl: float) -> float:
    """
    Nusselt number of natural convection around a horizontal cylinder. [1]

    Source:
        Churchill and Chu (1975), as at `convection_coefficient`.
    """
    spread = (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return float((0.60 + 0.387 * rayleigh ** (1 / 6) / spread) ** 2)


def air_viscosity(temperature_k: float) -> float:
    """
    Dynamic viscosity of air. [Pa·s]

    Source:
        U.S. Standard Atmosphere 1976, equation 51 (Sutherland).
    """
    return float(1.458e-6 * temperature_k**1.5 / (temperature_k + 110.4))


def air_conductivity(temperature_k: float) -> float:
    """
    Thermal conductivity of air. [W/(m·K)]

    Source:
        U.S. Standard Atmosphere 1976, equation 53.
    """
    slowed = 245.4 * 10 ** (-12 / temperature_k)
    return float(2.64638e-3 * temperature_k**1.5 / (temperature_k + slowed))
