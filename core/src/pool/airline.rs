//! Pump, tube, valve and stone.
