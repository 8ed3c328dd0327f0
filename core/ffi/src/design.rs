//! What the design expects of a reading: a circuit with what feeds it, in memory of the caller.

use crate::choices::fp_earthing;
use crate::given::{self, Wrong, quantity};
use crate::installation::fp_installation;
use crate::memory::{Memory, made, make, put_if_wanted, shared, status};
use crate::single::{one_earthing, reading, refusable};
use crate::types::*;
use faultpath::assess::{assess_circuit, figures};
use faultpath::error::Field;
use faultpath::facts::CircuitFacts;
use faultpath::network::{Circuit, CircuitId};
use faultpath::profile::Profile;
use faultpath::quantity::Celsius;
use faultpath::reading::{Accuracy, Design, Judged, Shown, continuity, fault_loop};
use faultpath::source::Source;
use faultpath::verdict::{Outcome, Worst};

/// Eight bytes each that a design takes.
pub const FP_DESIGN_WORDS: usize = 208;

/// Memory for a circuit's design; fp_design_of_circuit or fp_design_in_installation makes one of it.
#[repr(C)]
pub struct fp_design {
    words: [u64; FP_DESIGN_WORDS],
}

impl Memory for fp_design {
    type Of = Parts;
    const MARK: u32 = 0x4650_4445;
}

/// What a [`Design`] points to.
pub(crate) struct Parts {
    profile: Profile,
    source: Source,
    circuit: Circuit,
    facts: CircuitFacts,
    ambient: Celsius,
}

impl Parts {
    fn design(&self) -> Design<'_> {
        Design {
            profile: &self.profile,
            source: &self.source,
            circuit: &self.circuit,
            facts: &self.facts,
            ambient: self.ambient,
        }
    }
}

/// Makes the design of one circuit right at the origin, judged as an fp_earthing (not FP_EARTHING_NOT_KNOWN), its
/// conductors being at `ambient` °C during the tests.
///
/// # Safety
/// `memory` must be null or memory for an fp_design, other pointers null or of what their types say, the sections as
/// many as the circuit says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_design_of_circuit(
    memory: *mut fp_design,
    profile: *const fp_profile,
    supply: *const fp_supply,
    earthing: u8,
    circuit: *const fp_circuit,
    ambient: f32,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            make(memory, |room| {
                let earthing = one_earthing(earthing)?.0;
                let profile = given::profile(shared(profile)?)?;
                let supply = given::supply(shared(supply)?)?;
                let circuit = given::circuit(shared(circuit)?)?;
                let ambient = quantity(ambient, Celsius::new, Field::Ambient)?;
                let source = Source::at_origin(&supply, earthing, &profile);
                let mut worst = Worst(Outcome::Pass);
                let (_, facts) = assess_circuit(&profile, &source, &circuit, None, &mut worst)
                    .map_err(|(section, e)| Wrong::Refused(given::error(e, section)))?;
                room.write(Parts {
                    profile,
                    source,
                    circuit,
                    facts,
                    ambient,
                });
                Ok(())
            })
        })
    }
}

/// Makes the design of a circuit of an installation, with all that is upstream of it.
///
/// # Safety
/// `memory` must be null or memory for an fp_design, other pointers null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_design_in_installation(
    memory: *mut fp_design,
    installation: *const fp_installation,
    earthing: u8,
    circuit: u16,
    ambient: f32,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            make(memory, |room| {
                let (earthing, _): (_, fp_earthing) = one_earthing(earthing)?;
                let inst = made(installation)?;
                let ambient = quantity(ambient, Celsius::new, Field::Ambient)?;
                let id = CircuitId(circuit);
                let circuit = inst.circuit(id).ok_or(fp_status::NoSuchThing)?;
                let Some((source, facts)) = figures(inst, earthing, id) else {
                    // The walk left it out: the tree contradicts itself there.
                    return Err(fp_status::NotKnown.into());
                };
                room.write(Parts {
                    profile: inst.profile,
                    source,
                    circuit: circuit.clone(),
                    facts,
                    ambient,
                });
                Ok(())
            })
        })
    }
}

unsafe fn by_design(
    design: *const fp_design,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
    judge: fn(&Design<'_>, Shown, &Accuracy) -> Judged,
) -> fp_status {
    // SAFETY: as the entries' own.
    unsafe {
        reading(judged, error, || {
            let parts = made(design)?;
            let shown = given::shown(shared(shown)?)?;
            let meter = given::meter(shared(meter)?)?;
            Ok(judge(&parts.design(), shown, &meter))
        })
    }
}

/// Judges a Zs read at the furthest point, in Ω.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_zs(
    design: *const fp_design,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own.
    unsafe { by_design(design, shown, meter, judged, error, fault_loop::zs) }
}

/// Judges an R1 + R2 read to the furthest point, in Ω.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_r1r2(
    design: *const fp_design,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own.
    unsafe { by_design(design, shown, meter, judged, error, continuity::r1r2) }
}

/// Judges an R2 read to the furthest point, in Ω.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_r2(
    design: *const fp_design,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own.
    unsafe { by_design(design, shown, meter, judged, error, continuity::r2) }
}

/// The largest Zs of the circuit, hot, and the largest reading at the temperature of the tests with which it is kept,
/// both in Ω; either pointer may be null. FP_STATUS_NOT_KNOWN where there is none.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_design_max_zs(
    design: *const fp_design,
    hot: *mut f32,
    reading: *mut f32,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    status(|| unsafe {
        put_if_wanted(hot, 0.0)?;
        put_if_wanted(reading, 0.0)?;
        let parts = made(design)?;
        let design = parts.design();
        let limit = design.max_zs().ok_or(fp_status::NotKnown)?.limit;
        let cold = design.zs_cold(limit).ok_or(fp_status::NotKnown)?;
        put_if_wanted(hot, limit)?;
        put_if_wanted(reading, cold)
    })
}
