//! What the standard library has in its prelude, where there is none of it.
#![allow(unused_imports)]

pub(crate) use alloc::borrow::ToOwned;
pub(crate) use alloc::boxed::Box;
pub(crate) use alloc::string::{String, ToString};
pub(crate) use alloc::vec::Vec;
