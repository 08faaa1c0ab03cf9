//! Who can submerge, who can get out, and what a tipped pool spills.
