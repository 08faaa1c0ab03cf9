//! How much water a pool holds between its stones.
