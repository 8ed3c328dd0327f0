//! A whole installation in memory of the caller.

use crate::choices::{fp_earthing, fp_outcome};
use crate::given::{self, Wrong};
use crate::memory::{Memory, made, made_mut, make, put, ready, shared};
use crate::single::{Told, earthing_code, fp_on_finding, refusable};
use crate::types::*;
use core::ffi::c_void;
use faultpath::assess::assess;
use faultpath::error::{Error, Field, Reason};
use faultpath::network::{At, Installation};
use faultpath::verdict::Outcome;

/// Most boards of an installation.
pub const FP_BOARDS: usize = 8;
/// Most circuits of an installation.
pub const FP_CIRCUITS: usize = 32;
/// Eight bytes each that an installation takes.
pub const FP_INSTALLATION_WORDS: usize = 3328;

/// Memory for an installation; what is in it is nobody's business. fp_installation_make makes one of it.
#[repr(C)]
pub struct fp_installation {
    words: [u64; FP_INSTALLATION_WORDS],
}

impl Memory for fp_installation {
    type Of = Installation<FP_BOARDS, FP_CIRCUITS>;
    const MARK: u32 = 0x4650_494e;
}

/// Makes an installation without boards and circuits of memory that need not hold anything yet. Nothing is to be
/// done at its end.
///
/// # Safety
/// `memory` must be null or memory for an fp_installation, other pointers null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_installation_make(
    memory: *mut fp_installation,
    profile: *const fp_profile,
    supply: *const fp_supply,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            make(memory, |room| {
                // Field by field: the whole would pass over the stack.
                (&raw mut (*room).profile).write(given::profile(shared(profile)?)?);
                (&raw mut (*room).supply).write(given::supply(shared(supply)?)?);
                (&raw mut (*room).boards).write(heapless::Vec::new());
                (&raw mut (*room).circuits).write(heapless::Vec::new());
                Ok(())
            })
        })
    }
}

fn next(count: usize) -> u16 {
    u16::try_from(count).unwrap_or(u16::MAX)
}

/// Adds a board and gives its number, counted from 0. A circuit it is fed by may be added later.
///
/// # Safety
/// Pointers must be null or of what their types say, and nobody else uses the installation meanwhile.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_installation_add_board(
    installation: *mut fp_installation,
    board: *const fp_board,
    id: *mut u16,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            ready(id)?;
            let board = given::board(shared(board)?)?;
            let inst = made_mut(installation)?;
            let number = next(inst.boards.len());
            inst.boards.push(board).map_err(|_| fp_status::Full)?;
            Ok(put(id, number)?)
        })
    }
}

/// Adds a circuit and gives its number, counted from 0. Its sections are copied.
///
/// # Safety
/// Pointers must be null or of what their types say, the sections as many as the circuit says, and nobody else uses
/// the installation meanwhile.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_installation_add_circuit(
    installation: *mut fp_installation,
    circuit: *const fp_circuit,
    id: *mut u16,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            ready(id)?;
            let circuit = given::circuit(shared(circuit)?)?;
            let inst = made_mut(installation)?;
            let number = next(inst.circuits.len());
            inst.circuits.push(circuit).map_err(|_| fp_status::Full)?;
            Ok(put(id, number)?)
        })
    }
}

/// Judges the installation: as the supply says of its earthing; where that is not known, as TN-C-S and as TT, and
/// the worse counts. What the tree contradicts itself in (a board that feeds itself, a circuit from no board) is
/// refused with the first such error, and the rest is judged all the same: the outcome is then
/// FP_OUTCOME_CANNOT_SAY at best.
///
/// # Safety
/// Pointers must be null or of what their types say, and nobody changes the installation meanwhile. `on_finding` must
/// be null or may be called with `context`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_installation_assess(
    installation: *const fp_installation,
    on_finding: fp_on_finding,
    context: *mut c_void,
    outcome: *mut fp_outcome,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(outcome, fp_outcome::CannotSay)?;
            let inst = made(installation)?;
            let mut first: Option<(Option<u8>, Error)> = None;
            inst.check(|at, e| {
                let section = match at {
                    At::Circuit(_, section) => section,
                    _ => None,
                };
                first.get_or_insert((section, e));
            });
            if inst.circuits.is_empty() {
                first.get_or_insert((None, Reason::Missing.at(Field::Circuits)));
            }
            let mut worst = Outcome::Pass;
            for earthing in inst.supply.earthing.readings() {
                let code: fp_earthing = earthing_code(*earthing);
                let mut told = Told {
                    on: on_finding,
                    context,
                    earthing: code,
                };
                worst = worst.worse(assess(inst, *earthing, &mut told));
            }
            put(outcome, worst.into())?;
            match first {
                Some((section, e)) => Err(Wrong::Refused(given::error(e, section))),
                None => Ok(()),
            }
        })
    }
}
