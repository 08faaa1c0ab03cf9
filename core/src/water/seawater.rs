//! Salinity, conductivity and density of sea water.
