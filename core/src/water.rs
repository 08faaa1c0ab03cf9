//! Water: what is in it, how it is mixed, thinned and followed.
//!
//! In reading order: `seawater` is salinity, conductivity and density; `instruments` is what a gravity meter shows of
//! them; `mixing` is the bucket; `conditioner` is what makes mains water fit; `dilution` is what part changes do;
//! `ammonia` is how much of it harms; `cycle` is how far a filter has come; `batch` is prepared water and where it went;
//! `stock` is all of that as a journal tells it.

pub mod ammonia;
pub mod batch;
pub mod conditioner;
pub mod cycle;
pub mod dilution;
pub mod instruments;
pub mod mixing;
pub mod seawater;
pub mod stock;
