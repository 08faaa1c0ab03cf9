//! Checking a hygrometer over saturated salt solutions.
