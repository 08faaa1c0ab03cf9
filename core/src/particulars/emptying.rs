//! How a pool is emptied through a tube into buckets, with what was told of it: for whoever cuts the tube, and for whoever
//! shares out the minutes.

use super::Vessel;
use crate::place::{Pool, Water};
use crate::pool::siphon::{
    Bore, Bucket, Buckets, Flow, Liquid, SiphonError, Tube, bore_for, buckets, constant_head, flow,
};
use crate::quantity::{Celsius, Centimetres, Litres, Minutes, Salinity};
use crate::rests::Rests;

/// A tube over the rim into a bucket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Siphon {
    /// Across the inside; by the pool's volume where nothing else is told.
    pub bore: Option<Centimetres>,
    /// From end to end.
    pub length: Centimetres,
    /// From the pool's water down to the tube's end or to the bucket's water.
    pub head: Centimetres,
    /// The bucket.
    pub bucket: Litres,
}

impl Siphon {
    /// A tube of 1.5 m, 50 cm of head, a bucket of 10 L. Common practice, no published source.
    pub const USUAL: Self = Self {
        bore: None,
        length: Centimetres(150.0),
        head: Centimetres(50.0),
        bucket: Litres(10.0),
    };
}

/// What it takes to draw litres from a pool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Emptying {
    /// What is drawn.
    pub litres: Litres,
    /// The tube.
    pub bore: Bore,
    /// What flows at first.
    pub flow: Flow,
    /// How long it flows, with the level falling where the pool's shape is known.
    pub drawing: Minutes,
    /// The buckets, and all the minutes with carrying.
    pub buckets: Buckets,
    /// What it rests on.
    pub rests: Rests,
}

/// Water of a pool, warm as in its enclosure: what the siphon's friction needs to know.
const WARM: Celsius = Celsius(25.0);

/// What it takes to draw so many litres from a pool; at most those that are in it.
///
/// # Errors
/// No head; a tube that is too short; a head that runs out before all is drawn; measures that cannot be.
pub fn emptying(pool: &Pool, litres: Litres, siphon: Siphon) -> Result<Emptying, SiphonError> {
    let bore = match siphon.bore {
        Some(inner) => Bore {
            inner,
            rests: Rests::Place,
        },
        None => bore_for(Litres(pool.litres))?,
    };
    let tube = Tube::bare(bore.inner, siphon.length);
    let salinity = match pool.water {
        Water::Fresh => Salinity(0.0),
        Water::Salt => Salinity(35.0),
    };
    let liquid = Liquid::new(WARM, salinity)?;
    let first = flow(tube, siphon.head, liquid)?;
    let vessel = Vessel::of(pool)?;
    let litres = match &vessel {
        Some(vessel) => Litres(litres.0.min(vessel.inside().water()?.likely.0)),
        None => litres,
    };
    let drawing = match &vessel {
        Some(vessel) => vessel.draw(litres, tube, siphon.head, liquid)?.minutes,
        None => constant_head(litres, &first)?,
    };
    Ok(Emptying {
        litres,
        bore,
        flow: first,
        drawing,
        buckets: buckets(litres, drawing, Bucket::of(siphon.bucket))?,
        rests: bore.rests.and(Rests::Practice),
    })
}
