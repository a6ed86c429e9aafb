"""What the model takes for granted of people in general; `tune` finds better values for a club."""

from msgspec import Struct


class StrengthSettings(Struct, frozen=True, kw_only=True):
    """Population settings. Levels in ln kg, time in weeks, counts in repetitions.

    Where no source stands beside a value it was found on simulated lifters that nothing else is measured on.
    """

    level_mean: float = 4.1
    level_spread: float = 0.5
    exercise_spread: float = 0.45
    relative_spread: float = 0.2
    between_patterns: float = 0.7
    slope_mean: float = 0.0045
    slope_spread: float = 0.004
    slope_weeks: float = 26.0
    lasting_gain: float = 0.0005
    slope_noise: float = 0.0012
    level_noise: float = 0.004
    exercise_noise: float = 0.006
    novelty_gain: float = 0.01
    novelty_noise: float = 0.02
    novelty_sessions: float = 3.0
    # With a set's own noise some 3 %, as one session scatters in the supervised log of 289 people (own computation).
    day_spread: float = 0.015
    entry_spread: float = 0.012
    # Nuzzo et al. 2024: 9.75 repetitions at 80 %, SD between people 2.51, of which about one is the test's own noise.
    steepness_spread: float = 0.25
    own_steepness_spread: float = 0.25
    set_noise: float = 0.6
    set_noise_longer: float = 0.03
    # Halperin et al. 2022: reserves are told 0.95 too low on average (0.17-1.73); I2 98 %.
    reserve_bias: float = 0.95
    reserve_bias_spread: float = 1.4
    reserve_slope: float = 0.2
    reserve_noise: float = 0.4
    reserve_noise_further: float = 0.2
    habit_mean: float = 3.0
    habit_spread: float = 1.8
    habit_noise: float = 2.0
    tiring: float = -0.008
    tiring_spread: float = 0.008
    layoff_from_weeks: float = 2.0
    layoff_drift: float = -0.006
    layoff_noise: float = 0.01
    slip_share: float = 0.004
    noise_scales: tuple[float, ...] = (0.75, 1.1, 1.7)
    drift_scales: tuple[float, ...] = (0.4, 1.0, 2.5)


DEFAULTS = StrengthSettings()
