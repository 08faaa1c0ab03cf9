//! All tables with their columns, as a copy from one database to another has to know them.
//!
//! The schemas differ in types alone: names, and what a row says, are the same. A test holds this table to them.

use sqlx::query::Query;
use sqlx::{ColumnIndex, Database, Decode, Encode, Row, Type};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A whole number, or nothing.
    Number,
    /// Yes or no; a number in SQLite.
    Truth,
    /// Text, or nothing.
    Text,
    /// Bytes.
    Bytes,
}

/// One table: those it refers to stand before it.
#[derive(Debug)]
pub(super) struct Table {
    pub(super) name: &'static str,
    pub(super) columns: &'static [(&'static str, Kind)],
}

use Kind::{Bytes, Number, Text, Truth};

/// All tables.
pub(super) const TABLES: [Table; 16] = [
    Table {
        name: "place",
        columns: &[
            ("id", Number),
            ("version", Number),
            ("practice", Truth),
            ("next_at", Number),
            ("seen_at", Number),
            ("porch_lines", Number),
            ("porch_revision", Number),
        ],
    },
    Table {
        name: "entry",
        columns: &[
            ("place", Number),
            ("seq", Number),
            ("at", Number),
            ("logged_at", Number),
            ("by_carer", Number),
            ("said_by", Number),
            ("body", Text),
        ],
    },
    Table {
        name: "carer_name",
        columns: &[("place", Number), ("carer", Number), ("name", Text)],
    },
    Table {
        name: "note",
        columns: &[("place", Number), ("seq", Number), ("text", Text)],
    },
    Table {
        name: "photo",
        columns: &[
            ("place", Number),
            ("seq", Number),
            ("media_type", Text),
            ("bytes", Bytes),
        ],
    },
    Table {
        name: "inbound",
        columns: &[("place", Number), ("id", Text), ("at", Number), ("answer", Text)],
    },
    Table {
        name: "post",
        columns: &[
            ("id", Number),
            ("place", Number),
            ("keys", Text),
            ("destination", Text),
            ("body", Text),
            ("at", Number),
            ("not_after", Number),
            ("wanted", Number),
            ("sent", Number),
            ("message", Text),
            ("state", Text),
            ("attempts", Number),
            ("next_at", Number),
            ("lease", Text),
            ("error", Text),
            ("shown", Text),
        ],
    },
    Table {
        name: "post_key",
        columns: &[("place", Number), ("key", Text), ("post", Number)],
    },
    Table {
        name: "standing",
        columns: &[
            ("place", Number),
            ("turn", Text),
            ("due", Number),
            ("overdue", Number),
            ("hazard", Number),
        ],
    },
    Table {
        name: "porch_line",
        columns: &[
            ("place", Number),
            ("id", Number),
            ("key", Text),
            ("revision", Number),
            ("at", Number),
            ("only_for", Number),
            ("body", Text),
        ],
    },
    Table {
        name: "access_key",
        columns: &[
            ("hash", Text),
            ("place", Number),
            ("carer", Number),
            ("once", Truth),
            ("until_at", Number),
        ],
    },
    Table {
        name: "server",
        columns: &[("place", Number), ("server", Number), ("channel", Number)],
    },
    Table {
        name: "account",
        columns: &[("place", Number), ("carer", Number), ("account", Number)],
    },
    Table {
        name: "calendar",
        columns: &[
            ("place", Number),
            ("carer", Number),
            ("hash", Text),
            ("alarm", Number),
        ],
    },
    Table {
        name: "calendar_seed",
        columns: &[("place", Number), ("seed", Text)],
    },
    Table {
        name: "kept",
        columns: &[("name", Text), ("value", Text)],
    },
];

impl Table {
    fn names(&self) -> String {
        let names: Vec<&str> = self.columns.iter().map(|(name, _)| *name).collect();
        names.join(", ")
    }

    /// The statement that reads all rows.
    pub(super) fn select(&self) -> String {
        format!("SELECT {} FROM {}", self.names(), self.name)
    }

    /// The statement that writes a row.
    pub(super) fn insert(&self) -> String {
        let marks: Vec<String> = (1..=self.columns.len())
            .map(|number| format!("${number}"))
            .collect();
        format!(
            "INSERT INTO {} ({}) VALUES ({})",
            self.name,
            self.names(),
            marks.join(", ")
        )
    }

    /// Takes a row of one database over into the statement that writes it to another.
    pub(super) fn take_over<'q, 'r, R, To>(
        &self,
        row: &'r R,
        mut insert: Query<'q, To, <To as Database>::Arguments>,
    ) -> sqlx::Result<Query<'q, To, <To as Database>::Arguments>>
    where
        R: Row,
        usize: ColumnIndex<R>,
        Option<i64>: Decode<'r, R::Database> + Type<R::Database> + Encode<'q, To> + Type<To>,
        Option<String>: Decode<'r, R::Database> + Type<R::Database> + Encode<'q, To> + Type<To>,
        bool: Decode<'r, R::Database> + Type<R::Database> + Encode<'q, To> + Type<To>,
        Vec<u8>: Decode<'r, R::Database> + Type<R::Database> + Encode<'q, To> + Type<To>,
        To: Database,
    {
        for (at, (_, kind)) in self.columns.iter().enumerate() {
            insert = match kind {
                Number => insert.bind(row.try_get::<Option<i64>, _>(at)?),
                Truth => insert.bind(row.try_get::<bool, _>(at)?),
                Text => insert.bind(row.try_get::<Option<String>, _>(at)?),
                Bytes => insert.bind(row.try_get::<Vec<u8>, _>(at)?),
            };
        }
        Ok(insert)
    }
}
