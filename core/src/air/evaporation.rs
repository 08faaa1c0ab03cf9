//! What a water surface gives to the air.
