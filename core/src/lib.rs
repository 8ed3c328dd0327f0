//! **Faultpath** judges a low-voltage installation from the origin of its supply to its furthest point:
//! is every cable big enough as installed, is the volt drop inside its limit, does each device disconnect
//! in time, does the protective conductor survive, can the device break the fault, do RCD, electrode and
//! bonding do their work, does it all fit the incoming device.
//!
//! `no_std`, no allocation, no `unsafe`, no panics; `f32` throughout, and the same bits on every target.
//!
//! What is **not** covered: direct current, IT systems, medium voltage, generators and inverters as
//! sources, harmonics, conductors in parallel, busbars, mineral-insulated cables, fire performance.
//!
//! This library is an aid to people who are competent and licensed to design and test; local codes decide.
//!
//! # A tour
//! - [`quantity`]: values with units; the constructors refuse what has no meaning.
//! - [`network`]: the installation as a tree. [`supply`], [`source`]: what feeds it.
//! - [`conductor`], [`cable`], [`device`]: what it is made of.
//! - [`assess`]: the walk. [`verdict`]: what comes out. [`solve`]: the questions the other way round.
//! - `words`: names, formulas, sources (feature `words`).
//!
//! # Features
//! `words` adds the text; nothing else depends on it. `tables`, on by default, is the sum of `breakers`, `bs88-2`,
//! `bs88-3`, `bs3036`, `bs1361`, `bs1362`, `gg` (families of devices), `aluminium`, `thermosetting`, `flat-twin`
//! (capacity of cables) and `armour`. What is left out is refused as not made or not in the table, and never judged
//! by something else. What each costs in flash is said in the README of the crate.
#![no_std]
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(
        clippy::indexing_slicing,
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic
    )
)]

#[cfg(test)]
extern crate std;

pub mod assess;
pub mod cable;
mod check;
pub mod conductor;
pub mod device;
pub mod earthing;
pub mod error;
pub mod evidence;
pub mod facts;
#[cfg(test)]
mod fixture;
pub mod impedance;
#[cfg(feature = "lesson")]
pub mod lesson;
mod list;
pub mod network;
pub mod profile;
pub mod quantity;
pub mod reading;
pub mod solve;
pub mod source;
pub mod supply;
pub mod verdict;
#[cfg(feature = "words")]
pub mod words;

pub use check::disconnection::time_allowed;
pub use check::thermal::adiabatic;

/// The examples of the README, so that they run.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
mod readme {}
