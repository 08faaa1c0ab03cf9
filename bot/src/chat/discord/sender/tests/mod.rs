//! Against a real server.
