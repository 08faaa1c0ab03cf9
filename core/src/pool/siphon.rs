//! Emptying a pool through a tube.
