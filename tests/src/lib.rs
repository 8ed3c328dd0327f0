//! Reads the vectors and holds them against the native build.
