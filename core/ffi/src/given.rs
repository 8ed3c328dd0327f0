//! From the structs of the caller to the types of core, and back.

use crate::choices::*;
use crate::memory;
use crate::told::{fp_field, fp_reason};
use crate::types::*;
use faultpath::cable::{Arrangement, Laying};
use faultpath::device::{Device, Rcd};
use faultpath::error::{Error, Field, Reason};
use faultpath::facts::CircuitFacts;
use faultpath::network::{
    Board, BoardEarthing, BoardId, Circuit, CircuitId, Demand, Load, Protective, SECTIONS, Section,
    Steel,
};
use faultpath::profile::{Diversity, Profile};
use faultpath::quantity::{
    AmpSquaredSeconds, Amps, Celsius, KelvinMetresPerWatt, Metres, Ohms, OhmsPerKm, Ratio,
    SquareMm, Volts, Watts,
};
use faultpath::reading::{Accuracy, Judged, Shown};
use faultpath::supply::{Conductor, EarthingConductor, FaultLevel, Origin, Supply};
use faultpath::verdict::{Finding, Place};

/// Why an input can't be taken: refused, or no use of its pointer.
pub(crate) enum Wrong {
    Refused(fp_error),
    Status(fp_status),
}

impl From<Error> for Wrong {
    fn from(e: Error) -> Self {
        Wrong::Refused(error(e, None))
    }
}

impl From<fp_status> for Wrong {
    fn from(status: fp_status) -> Self {
        Wrong::Status(status)
    }
}

impl Wrong {
    /// The status for the caller, who may be told more.
    ///
    /// # Safety
    /// As [`memory::put`].
    pub(crate) unsafe fn tell(self, error: *mut fp_error) -> fp_status {
        match self {
            // SAFETY: as this function's own.
            Wrong::Refused(e) => unsafe { memory::refuse(error, e) },
            Wrong::Status(status) => status,
        }
    }
}

type Taken<T> = Result<T, Wrong>;

pub(crate) fn error(e: Error, section: Option<u8>) -> fp_error {
    fp_error {
        field: e.field.into(),
        reason: e.reason.into(),
        section: section.unwrap_or(FP_NO_SECTION),
    }
}

pub(crate) fn own(field: Field, reason: fp_reason) -> Wrong {
    Wrong::Refused(fp_error {
        field: field.into(),
        reason,
        section: FP_NO_SECTION,
    })
}

/// A choice, or which field has none.
pub(crate) fn chosen<T>(choice: Option<T>, field: Field) -> Taken<T> {
    choice.ok_or(own(field, fp_reason::NoSuchChoice))
}

pub(crate) fn flag(v: u8, field: Field) -> Taken<bool> {
    match v {
        0 => Ok(false),
        1 => Ok(true),
        _ => Err(own(field, fp_reason::NotAFlag)),
    }
}

pub(crate) fn quantity<T>(v: f32, make: fn(f32) -> Result<T, Reason>, field: Field) -> Taken<T> {
    make(v).map_err(|reason| reason.at(field).into())
}

pub(crate) fn maybe<T>(
    v: fp_optional,
    make: fn(f32) -> Result<T, Reason>,
    field: Field,
) -> Taken<Option<T>> {
    if flag(v.given, field)? {
        quantity(v.value, make, field).map(Some)
    } else {
        Ok(None)
    }
}

/// What rests on a figure of the profile that is not known is no number, and not given.
pub(crate) fn optional(v: Option<f32>) -> fp_optional {
    let v = v.filter(|v| v.is_finite());
    fp_optional {
        value: v.unwrap_or(0.0),
        given: u8::from(v.is_some()),
    }
}

pub(crate) fn profile(p: &fp_profile) -> Taken<Profile> {
    let out = Profile {
        cmin: p.cmin,
        cmax: p.cmax,
        drop_lighting: p.drop_lighting,
        drop_other: p.drop_other,
        drop_basis: chosen(fp_drop_basis::of(p.drop_basis), Field::Limit)?.core(),
        source_electrode: p.source_electrode,
        touch_voltage: p.touch_voltage,
        additional_protection: p.additional_protection,
        sockets_up_to: p.sockets_up_to,
        diversity: p.diversity.map(|d| Diversity {
            first_amps: d.first_amps,
            first: d.first,
            rest: d.rest,
            add: d.add,
            largest: d.largest,
            second: d.second,
            others: d.others,
        }),
    };
    let mut wrong: Option<Error> = None;
    let (out, sound) = out.sift(&mut |_, e| {
        wrong.get_or_insert(e);
    });
    match wrong {
        None if sound => Ok(out),
        None => Err(Reason::Missing.at(Field::Limit).into()),
        Some(e) => Err(e.into()),
    }
}

pub(crate) fn profile_out(p: &Profile) -> fp_profile {
    fp_profile {
        cmin: p.cmin,
        cmax: p.cmax,
        drop_lighting: p.drop_lighting,
        drop_other: p.drop_other,
        source_electrode: p.source_electrode,
        touch_voltage: p.touch_voltage,
        additional_protection: p.additional_protection,
        sockets_up_to: p.sockets_up_to,
        diversity: p.diversity.map(|d| fp_diversity {
            first_amps: d.first_amps,
            first: d.first,
            rest: d.rest,
            add: d.add,
            largest: d.largest,
            second: d.second,
            others: d.others,
        }),
        drop_basis: match p.drop_basis {
            faultpath::profile::DropBasis::Full => fp_drop_basis::Full as u8,
            faultpath::profile::DropBasis::Load => fp_drop_basis::Load as u8,
        },
    }
}

pub(crate) fn device(d: &fp_device) -> Taken<Device> {
    let family = chosen(fp_family::of(d.family), Field::Rating)?.core();
    let mut out = Device::new(family, quantity(d.rating, Amps::new, Field::Rating)?)?;
    if let Some(amps) = maybe(d.breaking, Amps::new, Field::BreakingCapacity)? {
        out = out.with_breaking(amps);
    }
    if let Some(energy) = maybe(d.let_through, AmpSquaredSeconds::new, Field::LetThrough)? {
        out = out.with_let_through(energy);
    }
    if flag(d.class_3, Field::LetThrough)? {
        out = out.with_energy_class_3();
    }
    Ok(out)
}

pub(crate) fn rcd(r: &fp_rcd) -> Taken<Rcd> {
    Ok(Rcd::new(
        quantity(r.sensitivity, Amps::new, Field::ResidualCurrent)?,
        chosen(fp_rcd_type::of(r.kind), Field::ResidualCurrent)?.core(),
        chosen(fp_rcd_delay::of(r.delay), Field::ResidualCurrent)?.core(),
    )?)
}

fn conductor(c: &fp_conductor, field: Field) -> Taken<Conductor> {
    Ok(Conductor {
        material: chosen(fp_material::of(c.material), field)?.core(),
        csa: quantity(c.csa, SquareMm::new, field)?,
    })
}

fn earthing_conductor(c: &fp_earthing_conductor) -> Taken<EarthingConductor> {
    let field = Field::EarthingConductor;
    Ok(EarthingConductor {
        conductor: conductor(&c.conductor, field)?,
        buried: flag(c.buried, field)?,
        mechanical: flag(c.mechanical, field)?,
        corrosion: flag(c.corrosion, field)?,
    })
}

/// Something that is there where its flag says so.
fn where_given<T>(has: u8, field: Field, take: impl FnOnce() -> Taken<T>) -> Taken<Option<T>> {
    if flag(has, field)? {
        take().map(Some)
    } else {
        Ok(None)
    }
}

pub(crate) fn supply(s: &fp_supply) -> Taken<Supply> {
    let ze = maybe(s.ze, Ohms::new, Field::Ze)?;
    let out = Supply {
        u0: quantity(s.u0, Volts::new, Field::U0)?,
        phases: chosen(fp_phases::of(s.phases), Field::Phase)?.core(),
        earthing: chosen(fp_earthing::of(s.earthing), Field::Current)?.core(),
        ze,
        ze_origin: match ze {
            Some(_) => chosen(fp_origin::of(s.ze_origin), Field::Ze)?.core(),
            None => Origin::Typical,
        },
        ra: maybe(s.ra, Ohms::new, Field::Ra)?,
        fault_level: match chosen(fp_fault_level::of(s.fault_level), Field::FaultLevel)? {
            fp_fault_level::Stated => FaultLevel::Stated(
                quantity(s.fault_level_amps, Amps::new, Field::FaultLevel)?,
                chosen(fp_origin::of(s.fault_level_origin), Field::FaultLevel)?.core(),
            ),
            fp_fault_level::FromZe => FaultLevel::FromZe,
            fp_fault_level::NotKnown => FaultLevel::NotKnown,
        },
        x_over_r: maybe(s.x_over_r, Ratio::new, Field::XOverR)?,
        device: where_given(s.has_device, Field::Rating, || device(&s.device))?,
        neutral: maybe(s.neutral, SquareMm::new, Field::NeutralCsa)?,
        tails: maybe(s.tails, SquareMm::new, Field::Csa)?,
        earthing_conductor: where_given(
            s.has_earthing_conductor,
            Field::EarthingConductor,
            || earthing_conductor(&s.earthing_conductor),
        )?,
        extraneous: flag(s.extraneous, Field::BondingConductor)?,
        bonding: where_given(s.has_bonding, Field::BondingConductor, || {
            conductor(&s.bonding, Field::BondingConductor)
        })?,
    };
    out.check()?;
    Ok(out)
}

pub(crate) fn board(b: &fp_board) -> Taken<Board> {
    Ok(Board {
        fed_by: match chosen(fp_feed::of(b.feed), Field::FedBy)? {
            fp_feed::Origin => None,
            fp_feed::Circuit => Some(CircuitId(b.circuit)),
        },
        earthing: if flag(b.own_electrode, Field::Ra)? {
            BoardEarthing::OwnElectrode(maybe(b.ra, Ohms::new, Field::Ra)?)
        } else {
            BoardEarthing::AsSupply
        },
        enclosure: match b.enclosure {
            0 => None,
            code => Some(chosen(fp_enclosure::of(code), Field::Board)?.core()),
        },
        rcd: where_given(b.has_rcd, Field::ResidualCurrent, || rcd(&b.rcd))?,
        conditional: maybe(b.conditional, Amps::new, Field::BreakingCapacity)?,
        extraneous: flag(b.extraneous, Field::BondingConductor)?,
        bonding: where_given(b.has_bonding, Field::BondingConductor, || {
            conductor(&b.bonding, Field::BondingConductor)
        })?,
        earthing_conductor: where_given(
            b.has_earthing_conductor,
            Field::EarthingConductor,
            || earthing_conductor(&b.earthing_conductor),
        )?,
        demand: maybe(b.demand, Amps::new, Field::DesignCurrent)?,
    })
}

fn laying(l: &fp_laying) -> Taken<Laying> {
    Ok(Laying {
        method: chosen(fp_method::of(l.method), Field::Method)?.core(),
        ambient: quantity(l.ambient, Celsius::new, Field::Ambient)?,
        grouped: l.grouped,
        arrangement: match chosen(fp_arrangement::of(l.arrangement), Field::Arrangement)? {
            fp_arrangement::Bunched => Arrangement::Bunched,
            fp_arrangement::SingleLayerWall => Arrangement::SingleLayerWall,
            fp_arrangement::SingleLayerTray => Arrangement::SingleLayerTray,
            fp_arrangement::Ladder => Arrangement::Ladder,
            fp_arrangement::Touching => Arrangement::Touching,
            fp_arrangement::GapDiameter => Arrangement::GapDiameter,
            fp_arrangement::Gap => {
                Arrangement::Gap(quantity(l.gap, Metres::new, Field::Arrangement)?)
            }
        },
        soil: maybe(l.soil, KelvinMetresPerWatt::new, Field::SoilResistivity)?,
        depth: maybe(l.depth, Metres::new, Field::Depth)?,
        insulation_run: maybe(l.insulation_run, Metres::new, Field::InsulationRun)?,
    })
}

fn section(s: &fp_section) -> Taken<Section> {
    let steel = || -> Taken<Option<Steel>> {
        let field = Field::PerLengthResistance;
        let area = maybe(s.steel_area, SquareMm::new, Field::ProtectiveCsa)?;
        Ok(maybe(s.steel_resistance, OhmsPerKm::new, field)?
            .map(|resistance| Steel { resistance, area }))
    };
    let core = || conductor(&s.protective_conductor, Field::ProtectiveCsa);
    let protective = match chosen(fp_protective::of(s.protective), Field::ProtectiveCsa)? {
        fp_protective::Core => Protective::Core(core()?),
        fp_protective::Separate => Protective::Separate(core()?),
        fp_protective::Armour => Protective::Armour(steel()?),
        fp_protective::ArmourAndCore => Protective::ArmourAndCore(steel()?, core()?),
        fp_protective::Enclosure => Protective::Enclosure(
            steel()?.ok_or(Wrong::from(Reason::Missing.at(Field::PerLengthResistance)))?,
        ),
        fp_protective::None => Protective::None,
    };
    Ok(Section {
        length: quantity(s.length, Metres::new, Field::Length)?,
        part: chosen(fp_part::of(s.part), Field::Sections)?.core(),
        spur_fuse: where_given(s.has_spur_fuse, Field::Rating, || device(&s.spur_fuse))?,
        material: chosen(fp_material::of(s.material), Field::Material)?.core(),
        csa: quantity(s.csa, SquareMm::new, Field::Csa)?,
        neutral: maybe(s.neutral, SquareMm::new, Field::NeutralCsa)?,
        insulation: chosen(fp_insulation::of(s.insulation), Field::Insulation)?.core(),
        construction: chosen(fp_construction::of(s.construction), Field::Construction)?.core(),
        cores: s.cores,
        operating_limit: maybe(s.operating_limit, Celsius::new, Field::OperatingTemperature)?,
        protective,
        laying: laying(&s.laying)?,
    })
}

/// A circuit, sound by itself.
///
/// # Safety
/// Its sections must be as many as it says, and nobody may change them meanwhile.
pub(crate) unsafe fn circuit(c: &fp_circuit) -> Taken<Circuit> {
    let count = usize::from(c.section_count);
    if count == 0 {
        return Err(Reason::Missing.at(Field::Sections).into());
    }
    if count > SECTIONS {
        return Err(Reason::TooMany.at(Field::Sections).into());
    }
    memory::ready(c.sections)?;
    let demand = match chosen(fp_demand::of(c.demand), Field::DesignCurrent)? {
        fp_demand::Current => Demand::Current(quantity(c.load, Amps::new, Field::DesignCurrent)?),
        fp_demand::Power => Demand::Power(quantity(c.load, Watts::new, Field::Power)?),
        fp_demand::Derived => Demand::Derived,
    };
    let mut out = Circuit {
        board: BoardId(c.board),
        phase: chosen(fp_phase::of(c.phase), Field::Phase)?.core(),
        shape: chosen(fp_shape::of(c.shape), Field::Shape)?.core(),
        device: device(&c.device)?,
        rcd: where_given(c.has_rcd, Field::ResidualCurrent, || rcd(&c.rcd))?,
        purpose: chosen(fp_use::of(c.purpose), Field::Circuits)?.core(),
        outdoors: flag(c.outdoors, Field::Circuits)?,
        bath: flag(c.bath, Field::Circuits)?,
        concealed: flag(c.concealed, Field::Circuits)?,
        dwelling: flag(c.dwelling, Field::Circuits)?,
        load: Load {
            demand,
            power_factor: quantity(c.power_factor, Ratio::new, Field::PowerFactor)?,
            class: chosen(fp_load_class::of(c.load_class), Field::Diversity)?.core(),
            points: c.points,
        },
        sections: heapless::Vec::new(),
    };
    for n in 0..c.section_count {
        // SAFETY: not null, aligned, and of that many as the caller says.
        let given = unsafe { &*c.sections.add(usize::from(n)) };
        let taken = section(given).map_err(|wrong| match wrong {
            Wrong::Refused(e) => Wrong::Refused(fp_error { section: n, ..e }),
            other => other,
        })?;
        // As many as there is room for: counted above.
        let _ = out.sections.push(taken);
    }
    out.check()
        .map_err(|(section, e)| Wrong::Refused(error(e, section)))?;
    Ok(out)
}

pub(crate) fn meter(m: &fp_meter) -> Taken<Accuracy> {
    let to = if flag(m.range_to.given, Field::Range)? {
        Some(m.range_to.value)
    } else {
        None
    };
    Ok(Accuracy::new(m.share, m.digits, m.resolution)?
        .with_lead(m.lead)?
        .with_range(m.range_from, to)?)
}

pub(crate) fn shown(s: &fp_shown) -> Taken<Shown> {
    Ok(if flag(s.above, Field::Reading)? {
        Shown::above(s.figure)?
    } else {
        Shown::value(s.figure)?
    })
}

pub(crate) fn finding(f: &Finding, earthing: fp_earthing) -> fp_finding {
    let (place, id) = match f.place {
        Place::Supply => (fp_place::Supply, 0),
        Place::Board(id) => (fp_place::Board, id.0),
        Place::Circuit(id) => (fp_place::Circuit, id.0),
    };
    fp_finding {
        value: optional(f.value),
        limit: optional(f.limit),
        lacking: f.lacking.bits(),
        assumed: f.assumed.bits(),
        id,
        place,
        check: f.check.into(),
        outcome: f.outcome.into(),
        unit: f.unit.into(),
        sense: f.sense.into(),
        rule: f.rule.into(),
        section: f.section.unwrap_or(FP_NO_SECTION),
        earthing: earthing as u8,
    }
}

pub(crate) fn figures(f: &CircuitFacts) -> fp_figures {
    fp_figures {
        ib: optional(f.ib),
        iz: optional(f.iz),
        r1r2: optional(f.r1r2_cold),
        zs: optional(f.zs),
        fault_min: optional(f.if_min),
        fault_max: optional(f.ipf_max),
        drop: optional(f.drop),
    }
}

pub(crate) fn judged(j: &Judged) -> fp_judged {
    fp_judged {
        value: optional(j.value),
        low: optional(j.interval.map(|i| i.low)),
        high: optional(j.interval.and_then(|i| i.high)),
        limit: optional(j.limit),
        expected: optional(j.compared.map(|c| c.expected)),
        suspects: j.suspects.bits(),
        lacking: u32::from(j.lacking.bits()),
        test: j.test.into(),
        outcome: j.outcome.into(),
        meaning: j.meaning.into(),
        rule: j.rule.into(),
        unit: j.unit.into(),
        sense: j.sense.into(),
    }
}

/// Nothing judged yet: what stands in a result until there is one.
pub(crate) const UNJUDGED: fp_judged = {
    const NONE: fp_optional = fp_optional {
        value: 0.0,
        given: 0,
    };
    fp_judged {
        value: NONE,
        low: NONE,
        high: NONE,
        limit: NONE,
        expected: NONE,
        suspects: 0,
        lacking: 0,
        test: crate::told::fp_test::Other,
        outcome: fp_outcome::CannotSay,
        meaning: crate::told::fp_meaning::NotKnown,
        rule: crate::told::fp_reading_rule::Other,
        unit: crate::told::fp_unit::Other,
        sense: fp_sense::AtMost,
    }
};

/// No error.
pub(crate) const NO_ERROR: fp_error = fp_error {
    field: fp_field::Other,
    reason: fp_reason::Other,
    section: FP_NO_SECTION,
};
