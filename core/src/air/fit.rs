//! How large a pool an enclosure bears.
