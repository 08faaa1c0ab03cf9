//! What a page that is printed is made of, before it is a page of the web.

use super::blocks::Block;

/// Where a part of a paper stands, and how much room it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// Over the whole width.
    Wide,
    /// In narrow columns, one under the other.
    Columns,
}

/// A part of a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its heading.
    pub heading: String,
    /// Where it stands.
    pub room: Room,
    /// What it shows; a title is a heading within it.
    pub blocks: Vec<Block>,
}

/// A page that is printed. All texts are plain: nothing in them is markup.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Paper {
    /// Its first line.
    pub title: String,
    /// What stands under it.
    pub lead: Vec<String>,
    /// Its parts, in order.
    pub sections: Vec<Section>,
}
