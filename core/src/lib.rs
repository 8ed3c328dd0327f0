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
//! - [`reading`]: what a meter showed, against a limit or a design. [`earthing`]: electrodes, schemes compared.
//! - `words`: names, formulas, sources (feature `words`). `lesson`: exercises (feature `lesson`).
//!
//! # One circuit
//! Three cores of 2.5 mm² behind a breaker of 20 A, fed from an origin with a measured Ze: every finding goes to a
//! [`Recorder`](verdict::Recorder), here one that keeps them.
//!
//! ```
//! use faultpath::assess::assess_circuit;
//! use faultpath::cable::{Arrangement, Laying, Method};
//! use faultpath::conductor::{Construction, Insulation, Material};
//! use faultpath::device::{Curve, Device, Family};
//! use faultpath::network::{
//!     BoardId, Circuit, Demand, Load, Part, Phase, Protective, Section, Shape, Use,
//! };
//! use faultpath::profile::{LoadClass, Profile};
//! use faultpath::quantity::{Amps, Celsius, Metres, Ohms, Ratio, SquareMm, Volts};
//! use faultpath::source::Source;
//! use faultpath::supply::{
//!     Conductor, Earthing, FaultLevel, Origin, Phases, Supply, SupplyEarthing,
//! };
//! use faultpath::verdict::{Check, Outcome, Report};
//!
//! let copper = |csa| Conductor { material: Material::Copper, csa: SquareMm::new(csa).unwrap() };
//! let section = Section {
//!     length: Metres::new(18.0).unwrap(),
//!     part: Part::Run,
//!     spur_fuse: None,
//!     material: Material::Copper,
//!     csa: SquareMm::new(2.5).unwrap(),
//!     neutral: None,
//!     insulation: Insulation::Thermoplastic70,
//!     construction: Construction::Multicore,
//!     cores: 3,
//!     operating_limit: None,
//!     protective: Protective::Core(copper(2.5)),
//!     laying: Laying {
//!         method: Method::Clipped,
//!         ambient: Celsius::new(30.0).unwrap(),
//!         grouped: 1,
//!         arrangement: Arrangement::Bunched,
//!         soil: None,
//!         depth: None,
//!         insulation_run: None,
//!     },
//! };
//! let mut circuit = Circuit {
//!     board: BoardId(0),
//!     phase: Phase::L1,
//!     shape: Shape::Radial,
//!     device: Device::new(Family::Breaker(Curve::B), Amps::new(20.0).unwrap())
//!         .unwrap()
//!         .with_breaking(Amps::new(6000.0).unwrap())
//!         .with_energy_class_3(),
//!     rcd: None,
//!     purpose: Use::Fixed,
//!     outdoors: false,
//!     bath: false,
//!     concealed: false,
//!     dwelling: false,
//!     load: Load {
//!         demand: Demand::Current(Amps::new(16.0).unwrap()),
//!         power_factor: Ratio::new(1.0).unwrap(),
//!         class: LoadClass::Other,
//!         points: 1,
//!     },
//!     sections: [section].into_iter().collect(),
//! };
//! let supply = Supply {
//!     u0: Volts::new(230.0).unwrap(),
//!     phases: Phases::Single,
//!     earthing: SupplyEarthing::Known(Earthing::TnCS),
//!     ze: Ohms::new(0.3).ok(),
//!     ze_origin: Origin::Measured,
//!     ra: None,
//!     fault_level: FaultLevel::FromZe,
//!     x_over_r: None,
//!     device: None,
//!     neutral: None,
//!     tails: None,
//!     earthing_conductor: None,
//!     extraneous: false,
//!     bonding: None,
//! };
//! let source = Source::at_origin(&supply, Earthing::TnCS, &Profile::UK);
//! let mut report = Report::<16>::default();
//! let (outcome, facts) =
//!     assess_circuit(&Profile::UK, &source, &circuit, None, &mut report).unwrap();
//! assert_eq!(outcome, Outcome::Pass);
//! assert!((facts.zs.unwrap() - 0.62).abs() < 0.01);
//!
//! // Of 60 m the drop is too much, and that is said.
//! circuit.sections[0].length = Metres::new(60.0).unwrap();
//! let mut report = Report::<16>::default();
//! let (outcome, _) = assess_circuit(&Profile::UK, &source, &circuit, None, &mut report).unwrap();
//! assert_eq!(outcome, Outcome::Fail);
//! let drop = report.findings.iter().find(|f| f.check == Check::VoltDrop).unwrap();
//! assert_eq!(drop.outcome, Outcome::Fail);
//! ```
//!
//! # Features
//! `words` adds the text, `lesson` exercises for a class; nothing else depends on them. `tables`, on by default, is the sum of `breakers`, `bs88-2`,
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
