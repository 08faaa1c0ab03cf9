//! Moist air: saturation, dew point, humidity ratio.
