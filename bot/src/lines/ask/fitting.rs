//! What is asked of a pool against its enclosure, and of what is laid to it.

use wrackline_core::particulars::{RoomAir, Siphon};
use wrackline_core::place::{EnclosureId, PoolId};

/// `/fit SPOT [winter 21C 40%] [summer 25C 55%]`
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// The enclosure.
    pub enclosure: EnclosureId,
    /// A pool of it that was named.
    pub pool: Option<PoolId>,
    /// Room air of winter to be asked with, in place of the place's.
    pub winter: Option<RoomAir>,
    /// The same of summer.
    pub summer: Option<RoomAir>,
}

/// `/plumb SPOT [head 50 cm] [tube 150 cm] [bore 9 mm] [bucket 10 L]`
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plumb {
    /// The pool.
    pub pool: PoolId,
    /// Its siphon: the usual one where nothing was said.
    pub siphon: Siphon,
    /// Whether the head was said.
    pub head_said: bool,
    /// Whether the tube's length was said.
    pub tube_said: bool,
    /// Whether the bucket was said.
    pub bucket_said: bool,
}
