//! The page's door to faultpath: a job in, findings out. Nothing is decided here.
//!
//! The same functions serve the page (through `serde-wasm-bindgen`) and the native tests (through
//! `serde_json`): a job comes in as [`value::Value`], an answer goes out as [`out::Out`].
//!
//! Where there is no operating system the page's side is left out; the rest needs an allocator there.
#![cfg_attr(target_os = "none", no_std)]

#[cfg_attr(target_os = "none", macro_use)]
extern crate alloc;

pub mod answer;
#[cfg(feature = "words")]
pub mod catalogue;
#[cfg(feature = "words")]
pub mod choices;
#[cfg(not(target_os = "none"))]
mod door;
#[cfg(feature = "site")]
pub mod earthing;
#[cfg(feature = "site")]
pub mod evidence;
#[cfg(feature = "site")]
pub mod lesson;
pub mod names;
pub mod out;
pub mod path;
#[cfg(feature = "site")]
pub mod pictures;
#[cfg(target_os = "none")]
mod prelude;
pub mod read;
#[cfg(feature = "site")]
pub mod readings;
#[cfg(feature = "site")]
pub mod solutions;
pub mod value;

/// A third of the size of the standard library's, and as fast.
#[cfg(target_arch = "wasm32")]
#[global_allocator]
static ALLOCATOR: talc::wasm::WasmDynamicTalc = talc::wasm::new_wasm_dynamic_allocator();
