//! How much ammonia is un-ionised.
