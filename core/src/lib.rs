//! Faultpath
#![no_std]
#![forbid(unsafe_code)]
pub mod error;
pub mod quantity;
