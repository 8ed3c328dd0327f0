//! The C interface of [`faultpath`]: `faultpath.h`, made by cbindgen of what is here, and a static library.
//!
//! Nothing is decided here. Codes become the types of core or are refused; what core says becomes codes. Memory is
//! the caller's, nothing is allocated, every entry returns an [`fp_status`], and every pointer is held against null
//! and its alignment before it is used.
//!
//! No panic can be reached: where there is no operating system the panic handler asks for a symbol that nobody
//! defines, so that a program with a way to it doesn't link. (Link with `--gc-sections`.)
#![no_std]
#![allow(non_camel_case_types)]

#[cfg(not(target_os = "none"))]
extern crate std;

mod choices;
mod design;
mod given;
mod installation;
mod memory;
mod single;
#[cfg(test)]
mod tests;
mod told;
mod types;

pub use choices::*;
pub use design::*;
pub use installation::*;
pub use single::*;
pub use told::*;
pub use types::*;

#[cfg(target_os = "none")]
#[panic_handler]
fn panic(_: &core::panic::PanicInfo<'_>) -> ! {
    unsafe extern "C" {
        fn faultpath_has_a_way_to_a_panic() -> !;
    }
    // SAFETY: defined nowhere; it is there to be missed by the linker.
    unsafe { faultpath_has_a_way_to_a_panic() }
}
