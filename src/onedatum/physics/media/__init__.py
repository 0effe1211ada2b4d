"""Media: densities and permittivities, each with the table or formula it comes from."""

from onedatum.physics.media.bulk import bulk_density_kg_per_m3
from onedatum.physics.media.ethanol import ethanol_mass_fraction, ethanol_water_density_kg_per_m3
from onedatum.physics.media.gravity import (
    api_gravity,
    base_density_of_api_gravity_kg_per_m3,
    base_density_of_relative_density_kg_per_m3,
    relative_density_60degF,
)
from onedatum.physics.media.mixing import (
    bruggeman_permittivity,
    hashin_shtrikman_lower_permittivity,
    hashin_shtrikman_upper_permittivity,
    lichtenecker_permittivity,
    looyenga_permittivity,
    maxwell_garnett_permittivity,
    mixture_permittivity,
    mixture_permittivity_half_width,
    wiener_lower_permittivity,
    wiener_upper_permittivity,
)
from onedatum.physics.media.permittivity_ends import lowered_permittivity, raised_permittivity
from onedatum.physics.media.permittivity_ethanol import (
    ethanol_water_permittivity,
    unmixed_volume_share,
    volume_linear_half_width,
    volume_linear_permittivity,
    warmed_mixture_half_width,
    warmed_mixture_permittivity,
)
from onedatum.physics.media.permittivity_liquids import (
    LiquidPermittivity,
    fitted_half_width,
    fitted_permittivity,
    highest_fitted_K,
    liquid_named,
    liquid_permittivity,
    liquids_with_permittivity,
    lowest_fitted_K,
)
from onedatum.physics.media.permittivity_petroleum import (
    petroleum_permittivity,
    petroleum_permittivity_half_width,
    shifted_permittivity,
)
from onedatum.physics.media.permittivity_water import (
    water_permittivity,
)
from onedatum.physics.media.petroleum import (
    own_expansion_base_density_kg_per_m3,
    own_expansion_density_kg_per_m3,
    petroleum_base_density_kg_per_m3,
    petroleum_density_kg_per_m3,
    petroleum_pressure_factor,
    petroleum_temperature_factor,
)
from onedatum.physics.media.petroleum_group import PetroleumGroup, petroleum_group
from onedatum.physics.media.rounding import (
    rounded_density_kg_per_m3,
    rounded_factor,
    rounded_pressure_kPa_Pa_gauge,
    rounded_pressure_psi_Pa_gauge,
    rounded_temperature_degC_K,
    rounded_temperature_degF_K,
)
from onedatum.physics.media.stated import expanded_density_kg_per_m3
from onedatum.physics.media.steam import (
    boiling_point_K,
    boiling_pressure_Pa_abs,
    column_water_density_kg_per_m3,
    flash_volume_ratio,
    pressed_water_density_kg_per_m3,
    saturated_steam_density_kg_per_m3,
    saturated_water_density_kg_per_m3,
)
from onedatum.physics.media.strength import (
    ethanol_fraction_of_density,
    ethanol_volume_factor,
    mass_fraction_of_proof,
    mixed_volume_m3,
    proof_of_mass_fraction,
    proof_volume_m3,
    strength_of_mass_fraction,
)
from onedatum.physics.media.tabled import DensityTable, densities_bend_kg_per_m3, tabled_density_kg_per_m3
from onedatum.physics.media.thermometer import true_temperature_K
from onedatum.physics.media.water import water_density_kg_per_m3

__all__ = [
    "DensityTable",
    "LiquidPermittivity",
    "PetroleumGroup",
    "api_gravity",
    "base_density_of_api_gravity_kg_per_m3",
    "base_density_of_relative_density_kg_per_m3",
    "boiling_point_K",
    "boiling_pressure_Pa_abs",
    "bruggeman_permittivity",
    "bulk_density_kg_per_m3",
    "column_water_density_kg_per_m3",
    "densities_bend_kg_per_m3",
    "ethanol_fraction_of_density",
    "ethanol_mass_fraction",
    "ethanol_volume_factor",
    "ethanol_water_density_kg_per_m3",
    "ethanol_water_permittivity",
    "expanded_density_kg_per_m3",
    "fitted_half_width",
    "fitted_permittivity",
    "flash_volume_ratio",
    "hashin_shtrikman_lower_permittivity",
    "hashin_shtrikman_upper_permittivity",
    "highest_fitted_K",
    "lichtenecker_permittivity",
    "liquid_named",
    "liquid_permittivity",
    "liquids_with_permittivity",
    "looyenga_permittivity",
    "lowered_permittivity",
    "lowest_fitted_K",
    "mass_fraction_of_proof",
    "maxwell_garnett_permittivity",
    "mixed_volume_m3",
    "mixture_permittivity",
    "mixture_permittivity_half_width",
    "own_expansion_base_density_kg_per_m3",
    "own_expansion_density_kg_per_m3",
    "petroleum_base_density_kg_per_m3",
    "petroleum_density_kg_per_m3",
    "petroleum_group",
    "petroleum_permittivity",
    "petroleum_permittivity_half_width",
    "petroleum_pressure_factor",
    "petroleum_temperature_factor",
    "pressed_water_density_kg_per_m3",
    "proof_of_mass_fraction",
    "proof_volume_m3",
    "raised_permittivity",
    "relative_density_60degF",
    "rounded_density_kg_per_m3",
    "rounded_factor",
    "rounded_pressure_kPa_Pa_gauge",
    "rounded_pressure_psi_Pa_gauge",
    "rounded_temperature_degC_K",
    "rounded_temperature_degF_K",
    "saturated_steam_density_kg_per_m3",
    "saturated_water_density_kg_per_m3",
    "shifted_permittivity",
    "strength_of_mass_fraction",
    "tabled_density_kg_per_m3",
    "true_temperature_K",
    "unmixed_volume_share",
    "volume_linear_half_width",
    "volume_linear_permittivity",
    "warmed_mixture_half_width",
    "warmed_mixture_permittivity",
    "water_density_kg_per_m3",
    "water_permittivity",
    "wiener_lower_permittivity",
    "wiener_upper_permittivity",
]
