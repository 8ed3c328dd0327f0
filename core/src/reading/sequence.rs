//! The order of tests.
