//! Entries that need no installation: limits, one circuit by itself, and readings.

use crate::choices::*;
use crate::given::{self, NO_ERROR, UNJUDGED, Wrong, chosen, flag, own, quantity};
use crate::memory::{put, put_if_wanted, shared, status};
use crate::told::fp_reason;
use crate::types::*;
use core::ffi::c_void;
use faultpath::assess::assess_circuit;
use faultpath::device::{self, Device, Known};
use faultpath::error::{Field, Reason};
use faultpath::profile::Profile;
use faultpath::quantity::{Amps, Ohms, Ratio, Seconds, Volts};
use faultpath::reading::insulation::{Class, Made};
use faultpath::reading::{Judged, electrode, insulation, interval, rcd};
use faultpath::source::Source;
use faultpath::supply::{Earthing, SupplyEarthing};
use faultpath::verdict::{Finding, Outcome, Recorder};

/// Takes a finding as it comes; the finding is there only during the call. May be null where none is wanted.
pub type fp_on_finding =
    Option<unsafe extern "C" fn(context: *mut c_void, finding: *const fp_finding)>;

/// Passes findings on to the caller.
pub(crate) struct Told {
    pub on: fp_on_finding,
    pub context: *mut c_void,
    pub earthing: fp_earthing,
}

impl Recorder for Told {
    fn finding(&mut self, finding: &Finding) {
        if let Some(on) = self.on {
            let finding = given::finding(finding, self.earthing);
            // SAFETY: the caller gave a function that may be called with this context.
            unsafe { on(self.context, &raw const finding) };
        }
    }
}

/// One system of earthing of the code, none where it is not known.
pub(crate) fn one_earthing(code: u8) -> Result<(Earthing, fp_earthing), Wrong> {
    let choice = chosen(fp_earthing::of(code), Field::Current)?;
    match choice.core() {
        SupplyEarthing::Known(earthing) => Ok((earthing, choice)),
        SupplyEarthing::NotKnown => Err(own(Field::Current, fp_reason::NoSuchChoice)),
    }
}

/// Fills a profile with the plain IEC choices.
///
/// # Safety
/// `out` must be memory for an fp_profile.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_profile_iec(out: *mut fp_profile) -> fp_status {
    // SAFETY: as this function's own.
    status(|| unsafe { put(out, given::profile_out(&Profile::IEC)) })
}

/// Fills a profile with the UK choices.
///
/// # Safety
/// `out` must be memory for an fp_profile.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_profile_uk(out: *mut fp_profile) -> fp_status {
    // SAFETY: as this function's own.
    status(|| unsafe { put(out, given::profile_out(&Profile::UK)) })
}

/// Runs what may be refused, and tells the caller why it was.
///
/// # Safety
/// `error` must be null or memory for an fp_error.
pub(crate) unsafe fn refusable(
    error: *mut fp_error,
    body: impl FnOnce() -> Result<(), Wrong>,
) -> fp_status {
    // SAFETY: as this function's own.
    if let Err(status) = unsafe { put_if_wanted(error, NO_ERROR) } {
        return status;
    }
    match body() {
        Ok(()) => fp_status::Ok,
        // SAFETY: as this function's own.
        Err(wrong) => unsafe { wrong.tell(error) },
    }
}

fn known<T>(known: Known<T>) -> Result<T, Wrong> {
    match known {
        Known::Value(v) => Ok(v),
        Known::NotKnown(_) => Err(Wrong::Status(fp_status::NotKnown)),
    }
}

/// The greatest earth fault loop impedance with which a device disconnects in time: U0·cmin/Ia, in Ω, not rounded.
///
/// On anything but FP_STATUS_OK the result is 0, which no loop is below.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_max_zs(
    device: *const fp_device,
    seconds: f32,
    u0: f32,
    cmin: f32,
    ohms: *mut f32,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(ohms, 0.0)?;
            let device: Device = given::device(shared(device)?)?;
            let limit = known(device::max_zs(
                &device,
                quantity(seconds, Seconds::new, Field::Time)?,
                quantity(u0, Volts::new, Field::U0)?,
                quantity(cmin, Ratio::new, Field::VoltageFactor)?,
            ))?;
            Ok(put(ohms, limit.get())?)
        })
    }
}

/// Ia: the smallest current for which a device is known to disconnect within a time, in A.
///
/// On anything but FP_STATUS_OK the result is infinite.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_disconnecting_current(
    device: *const fp_device,
    seconds: f32,
    amps: *mut f32,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(amps, f32::INFINITY)?;
            let device: Device = given::device(shared(device)?)?;
            let time = quantity(seconds, Seconds::new, Field::Time)?;
            Ok(put(amps, known(device.disconnecting_current(time))?.get())?)
        })
    }
}

/// The longest disconnection time of a circuit, in s, by its fp_earthing (not FP_EARTHING_NOT_KNOWN), its fp_use and
/// the rating of its device.
///
/// On anything but FP_STATUS_OK the result is 0.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_required_time(
    earthing: u8,
    u0: f32,
    purpose: u8,
    rating: f32,
    seconds: *mut f32,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(seconds, 0.0)?;
            let time = faultpath::time_allowed(
                one_earthing(earthing)?.0,
                quantity(u0, Volts::new, Field::U0)?,
                chosen(fp_use::of(purpose), Field::Circuits)?.core(),
                quantity(rating, Amps::new, Field::Rating)?,
            );
            match time {
                Ok(time) => Ok(put(seconds, time.get())?),
                Err(e) if e.reason == Reason::OutOfTable => Err(fp_status::NotKnown.into()),
                Err(e) => Err(e.into()),
            }
        })
    }
}

/// Judges one circuit right at the origin, without a tree. What the supply says of its earthing counts; where that
/// is not known, both ways are judged and the worse counts. The figures are of the last way that was judged and may
/// be null.
///
/// # Safety
/// Pointers must be null or of what their types say; the sections as many as the circuit says. `on_finding` must be
/// null or may be called with `context`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_circuit_assess(
    profile: *const fp_profile,
    supply: *const fp_supply,
    circuit: *const fp_circuit,
    on_finding: fp_on_finding,
    context: *mut c_void,
    figures: *mut fp_figures,
    outcome: *mut fp_outcome,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(outcome, fp_outcome::CannotSay)?;
            let profile = given::profile(shared(profile)?)?;
            let supply = given::supply(shared(supply)?)?;
            let circuit = given::circuit(shared(circuit)?)?;
            let mut worst = Outcome::Pass;
            for earthing in supply.earthing.readings() {
                let source = Source::at_origin(&supply, *earthing, &profile);
                let mut told = Told {
                    on: on_finding,
                    context,
                    earthing: earthing_code(*earthing),
                };
                let (one, facts) = assess_circuit(&profile, &source, &circuit, None, &mut told)
                    .map_err(|(section, e)| Wrong::Refused(given::error(e, section)))?;
                worst = worst.worse(one);
                put_if_wanted(figures, given::figures(&facts))?;
            }
            Ok(put(outcome, worst.into())?)
        })
    }
}

pub(crate) const fn earthing_code(earthing: Earthing) -> fp_earthing {
    match earthing {
        Earthing::TnS => fp_earthing::TnS,
        Earthing::TnCS => fp_earthing::TnCS,
        Earthing::Tt => fp_earthing::Tt,
    }
}

/// Holds a reading against any limit, by its fp_sense: a pass only where every true value the display allows is on
/// the good side.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_judge(
    sense: u8,
    shown: *const fp_shown,
    meter: *const fp_meter,
    limit: f32,
    outcome: *mut fp_outcome,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(outcome, fp_outcome::CannotSay)?;
            let sense = chosen(fp_sense::of(sense), Field::Limit)?.core();
            let shown = given::shown(shared(shown)?)?;
            let meter = given::meter(shared(meter)?)?;
            if limit.is_nan() {
                return Err(Reason::NotANumber.at(Field::Limit).into());
            }
            if interval::believable(shown, &meter) {
                let band = interval::interval(shown, &meter);
                put(outcome, interval::judge(sense, band, limit).into())?;
            }
            Ok(())
        })
    }
}

/// A judged reading for the caller.
///
/// # Safety
/// Pointers must be null or of what their types say.
pub(crate) unsafe fn reading(
    judged: *mut fp_judged,
    error: *mut fp_error,
    judge: impl FnOnce() -> Result<Judged, Wrong>,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        refusable(error, || {
            put(judged, UNJUDGED)?;
            let j = judge()?;
            Ok(put(judged, given::judged(&j))?)
        })
    }
}

/// Judges an insulation resistance, in MΩ: of an fp_circuit_class and its nominal voltage, tested at a voltage, with
/// surge protection or electronic gear connected or not (1 or 0), which can't be disconnected (1 or 0), so many
/// circuits together.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_insulation(
    circuit_class: u8,
    nominal: f32,
    test_voltage: f32,
    gear: u8,
    fixed_gear: u8,
    circuits: u8,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        reading(judged, error, || {
            let class = match chosen(fp_circuit_class::of(circuit_class), Field::U0)? {
                fp_circuit_class::ExtraLow => Class::ExtraLow,
                fp_circuit_class::Nominal => {
                    Class::Nominal(quantity(nominal, Volts::new, Field::U0)?)
                }
            };
            if circuits == 0 {
                return Err(Reason::Zero.at(Field::Circuits).into());
            }
            let made = Made {
                test_voltage: quantity(test_voltage, Volts::new, Field::U0)?.get(),
                gear: flag(gear, Field::Reading)?,
                fixed_gear: flag(fixed_gear, Field::Reading)?,
                circuits,
            };
            let shown = given::shown(shared(shown)?)?;
            let meter = given::meter(shared(meter)?)?;
            Ok(insulation::judge(class, made, shown, &meter))
        })
    }
}

/// Judges an operating time of an RCD, in s, at an fp_wave and an fp_multiple of IΔn. Over range is a test that ended
/// without operation after that time.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_rcd_time(
    device: *const fp_rcd,
    wave: u8,
    multiple: u8,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        reading(judged, error, || {
            let device = given::rcd(shared(device)?)?;
            let wave = chosen(fp_wave::of(wave), Field::Current)?.core();
            let multiple = chosen(fp_multiple::of(multiple), Field::Current)?.core();
            let shown = given::shown(shared(shown)?)?;
            let meter = given::meter(shared(meter)?)?;
            Ok(rcd::time(&device, wave, multiple, shown, &meter))
        })
    }
}

/// Judges an operating current of an RCD found by a rising test current, in A. Over range is a test that ended
/// without operation at that current.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_rcd_ramp(
    device: *const fp_rcd,
    wave: u8,
    shown: *const fp_shown,
    meter: *const fp_meter,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        reading(judged, error, || {
            let device = given::rcd(shared(device)?)?;
            let wave = chosen(fp_wave::of(wave), Field::Current)?.core();
            let shown = given::shown(shared(shown)?)?;
            let meter = given::meter(shared(meter)?)?;
            Ok(rcd::ramp(&device, wave, shown, &meter))
        })
    }
}

/// Judges an electrode by the fall of potential: three readings in Ω (the stake in its place, nearer, further), the
/// limit RA, in Ω, where an RCD gives one.
///
/// # Safety
/// `shown` must be null or three readings; other pointers null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_electrode(
    shown: *const fp_shown,
    meter: *const fp_meter,
    limit: fp_optional,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        reading(judged, error, || {
            let [a, b, c] = shared(shown.cast::<[fp_shown; 3]>())?;
            let three = [given::shown(a)?, given::shown(b)?, given::shown(c)?];
            let meter = given::meter(shared(meter)?)?;
            let limit = given::maybe(limit, Ohms::new, Field::Limit)?.map(Ohms::get);
            Ok(electrode::fall_of_potential(three, &meter, limit))
        })
    }
}

/// Judges RA by the loop at the origin of a TT installation, in Ω.
///
/// # Safety
/// Pointers must be null or of what their types say.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn fp_read_electrode_loop(
    shown: *const fp_shown,
    meter: *const fp_meter,
    limit: fp_optional,
    judged: *mut fp_judged,
    error: *mut fp_error,
) -> fp_status {
    // SAFETY: as this function's own, throughout.
    unsafe {
        reading(judged, error, || {
            let shown = given::shown(shared(shown)?)?;
            let meter = given::meter(shared(meter)?)?;
            let limit = given::maybe(limit, Ohms::new, Field::Limit)?.map(Ohms::get);
            Ok(electrode::by_loop(shown, &meter, limit))
        })
    }
}
