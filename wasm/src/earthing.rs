//! The ways of earthing a board away from the house, side by side, and what its electrode will be. In codes and
//! figures, as [`crate::answer`].

use crate::answer::{CHECKS, finding_answer, lacking_paths, name_in, outcome_name, shown};
use crate::names;
use crate::out::Out;
use crate::path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read::{House, Job, Planned, Site, reason_name};
use faultpath::device::Rcd;
use faultpath::earthing::Worked;
use faultpath::earthing::electrode::{
    Electrode, Layout, Rod, STABLE, Season, rod_length, rods_needed,
};
use faultpath::earthing::lost_neutral::{Sought, Span};
use faultpath::earthing::options::{
    self, Armour, Caution, Lost, Outbuilding, RcdNeed, Scheme, Side,
};
use faultpath::earthing::situations::{self, Situation, Stance};
use faultpath::error::Error;
use faultpath::network::{BoardEarthing, BoardId};
use faultpath::quantity::{Metres, OhmMetres, Ohms, Ratio, Volts};
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Lacking, Outcome, Place, Unit};
use faultpath::words::Rounding::{self, Down, Nearest, Up};

/// A figure, and how it is shown; nothing where there is none.
fn figure(value: Option<f32>, unit: Unit, way: Rounding) -> Out {
    let Some(v) = value.filter(|v| v.is_finite()) else {
        return Out::Null;
    };
    Out::Fields(vec![
        ("value", v.into()),
        ("unit", (unit as u8).into()),
        ("shown", shown(Some(v), unit, way)),
    ])
}

fn ohms(value: Option<Ohms>, way: Rounding) -> Out {
    figure(value.map(Ohms::get), Unit::Ohm, way)
}

fn span(of: Span) -> [(&'static str, Out); 2] {
    [
        ("low", figure(Some(of.low), Unit::Volt, Up)),
        ("high", figure(Some(of.high), Unit::Volt, Up)),
    ]
}

/// A line of working; one without a value stands in the formula under its symbol.
fn line(of: &Worked) -> Out {
    let operands = of.operands.iter().map(|v| {
        let v = Some(*v).filter(|v| v.is_finite());
        shown(v, Unit::Factor, Nearest)
    });
    Out::Fields(vec![
        ("formula", (of.formula as u8).into()),
        ("operands", Out::List(operands.collect())),
        ("value", of.value.into()),
        ("unit", (of.unit as u8).into()),
        ("shown", shown(Some(of.value), of.unit, Nearest)),
    ])
}

fn rcd_value(rcd: Rcd) -> Out {
    Out::Fields(vec![
        ("sensitivity", rcd.sensitivity().get().into()),
        ("kind", names::RCD_TYPES.name_of(rcd.kind()).into()),
        ("delay", names::DELAYS.name_of(rcd.delay()).into()),
    ])
}

/// The next hundredth that is not below.
fn up_to_hundredth(v: f32) -> f32 {
    let up = libm::ceilf(v * 100.0) / 100.0;
    if up < v { v } else { up }
}

/// The next tenth that is not below.
fn up_to_tenth(v: f32) -> f32 {
    let up = libm::ceilf(v * 10.0) / 10.0;
    if up < v { v } else { up }
}

/// The planned electrode in its soil, where both are known.
fn planned(site: &Site) -> Option<(Electrode, OhmMetres, Season)> {
    let whole = site.electrode.as_ref().and_then(|e| e.whole)?;
    Some((whole, site.resistivity?, site.season?))
}

/// Resistance of the electrode: as entered, otherwise as planned.
fn resistance(site: &Site) -> (Option<Ohms>, Option<&'static str>) {
    if let Some(ra) = site.ra {
        return (Some(ra), Some("entered"));
    }
    let planned = planned(site).map(|(e, rho, season)| e.resistance(rho, season));
    (planned, planned.map(|_| "planned"))
}

/// A board of a job that was read, and its place there.
struct Case<'a> {
    house: &'a mut House,
    site: &'a Site,
    id: BoardId,
    errors: bool,
}

impl<'a> Case<'a> {
    fn of(job: &'a mut Job<'_>, board: &str) -> Option<Self> {
        let index = job.boards.iter().position(|b| *b == board)?;
        Some(Self {
            id: BoardId(u16::try_from(index).ok()?),
            site: job.sites.get(index)?.as_ref()?,
            errors: !job.errors.is_empty(),
            house: job.house.as_deref_mut()?,
        })
    }

    fn path(&self, key: &str) -> String {
        path::of_board(self.id.0, key)
    }

    fn edit(&self, key: &str, value: Out) -> Out {
        Out::Fields(vec![("path", self.path(key).into()), ("value", value)])
    }
}

fn unread(reason: &'static str) -> Out {
    Out::Fields(vec![("error", reason.into())])
}

/// The ways of earthing a board, side by side, for each earthing the supply is judged as.
#[must_use]
pub fn earthing(job: &mut Job<'_>, board: &str) -> Out {
    let Some(mut case) = Case::of(job, board) else {
        return unread("unread");
    };
    let site = case.site;
    let (electrode, from) = resistance(site);
    let rules = Volts::new(case.house.profile.touch_voltage).ok();
    let (Some(limit), Some(least_load)) = (
        site.limit.or(rules),
        site.least_load.or(Ratio::new(0.0).ok()),
    ) else {
        return unread("unread");
    };
    let what = Outbuilding {
        board: case.id,
        electrode,
        rcd_type: site.rcd_kind,
        least_load,
        limit,
    };
    let mut judgements = Vec::new();
    let mut sought: Option<Ohms> = None;
    for earthing in case.house.supply.earthing.readings() {
        let sides = match options::compare(case.house, *earthing, &what) {
            Ok(sides) => sides,
            Err(e) => return unread(reason_name(e.reason)),
        };
        for side in &sides {
            if let Some((_, ra)) = side.electrode_sought {
                sought = Some(sought.map_or(ra, |s| if ra.get() < s.get() { ra } else { s }));
            }
        }
        let sides = sides
            .iter()
            .map(|side| side_answer(&mut case, *earthing, &what, side));
        judgements.push(Out::Fields(vec![
            ("earthing", names::EARTHINGS.name_of(*earthing).into()),
            ("sides", Out::List(sides.collect())),
        ]));
    }
    let (target, target_from) = target(site, sought);
    Out::Fields(vec![
        ("error", Out::Null),
        ("electrode", ohms(electrode, Up)),
        ("electrode_from", from.into()),
        ("limit", figure(Some(limit.get()), Unit::Volt, Down)),
        ("least", figure(Some(least_load.get()), Unit::Share, Down)),
        ("target", ohms(target, Down)),
        ("target_from", target_from.into()),
        ("judgements", Out::List(judgements)),
        ("situations", situations_of(&case)),
    ])
}

/// The resistance that is looked for: as entered; what the RCD in front asks for; never more than stays what
/// it was.
fn target(site: &Site, sought: Option<Ohms>) -> (Option<Ohms>, &'static str) {
    match (site.target, sought) {
        (Some(target), _) => (Some(target), "entered"),
        (None, Some(sought)) if sought.get() <= STABLE => (Some(sought), "sought"),
        _ => (Ohms::new(STABLE).ok(), "stable"),
    }
}

fn situations_of(case: &Case<'_>) -> Out {
    let raised = situations::raised(case.house, case.id);
    let here = Situation::ALL.iter().filter(|one| is_here(case, **one));
    let all = here.map(|one| {
        Out::Fields(vec![
            ("situation", (*one as u8).into()),
            ("stance", (one.stance() as u8).into()),
            ("by_job", Out::Bool(raised == Some(*one))),
        ])
    });
    Out::List(all.collect())
}

/// What keeps a scheme from being a pass beside its checks: entries that can't be read, and places to which the
/// earth of such a supply is not taken without asking.
fn doubt(case: &Case<'_>, earthing: Earthing, scheme: Scheme) -> Outcome {
    let mut doubt = Outcome::Pass;
    if case.errors {
        doubt = Outcome::CannotSay;
    }
    if earthing == Earthing::TnCS && scheme != Scheme::OwnElectrode {
        for one in Situation::ALL.iter().filter(|one| is_here(case, **one)) {
            doubt = doubt.worse(match one.stance() {
                Stance::Ask => Outcome::Pass,
                Stance::Doubtful => Outcome::Doubtful,
                // The rules name exceptions, which are not judged here.
                Stance::NotAllowed => Outcome::CannotSay,
            });
        }
    }
    doubt
}

fn is_here(case: &Case<'_>, one: Situation) -> bool {
    situations::raised(case.house, case.id) == Some(one) || case.site.situations.contains(&one)
}

fn lacking(case: &Case<'_>, of: Lacking) -> Out {
    Out::Fields(vec![
        ("lacking", Out::Count(of.bits())),
        (
            "paths",
            lacking_paths(case.house, Place::Board(case.id), None, of),
        ),
    ])
}

fn side_answer(case: &mut Case<'_>, earthing: Earthing, what: &Outbuilding, side: &Side) -> Out {
    let mut working = Vec::new();
    options::work(case.house, earthing, what, side, |l| working.push(line(&l)));
    // What is missing is said of the place where it would be with this scheme.
    let index = usize::from(case.id.0);
    let own = match side.scheme {
        Scheme::OwnElectrode => BoardEarthing::OwnElectrode(what.electrode),
        Scheme::ExtendSupply | Scheme::ExtendWithElectrode => BoardEarthing::AsSupply,
    };
    let before = case
        .house
        .boards
        .get_mut(index)
        .map(|b| core::mem::replace(&mut b.earthing, own));
    let out = side_fields(case, side, doubt(case, earthing, side.scheme), working);
    if let (Some(b), Some(before)) = (case.house.boards.get_mut(index), before) {
        b.earthing = before;
    }
    out
}

fn side_fields(case: &Case<'_>, side: &Side, doubt: Outcome, working: Vec<Out>) -> Out {
    let finding = |f: &Option<Finding>| {
        f.as_ref()
            .map_or(Out::Null, |f| finding_answer(case.house, f))
    };
    let outcome = side.outcome.worse(doubt);
    let sought = side.electrode_sought.map_or(Out::Null, |(rcd, ra)| {
        Out::Fields(vec![("rcd", rcd_value(rcd)), ("ra", ohms(Some(ra), Down))])
    });
    let bonding_needed = match side.bonding_needed {
        Ok(csa) => figure(Some(csa.get()), Unit::SquareMm, Up),
        Err(missing) => lacking(case, missing),
    };
    Out::Fields(vec![
        ("scheme", (side.scheme as u8).into()),
        ("outcome", outcome_name(outcome).into()),
        ("check", side.check.map(|c| name_in(&CHECKS, c)).into()),
        ("feed", outcome_name(side.feed).into()),
        ("disconnection", finding(&side.disconnection)),
        ("at_board", finding(&side.at_board)),
        ("touch", finding(&side.touch)),
        ("bonding", finding(&side.bonding)),
        ("feed_bonding", finding(&side.feed_bonding)),
        ("earthing_conductor", finding(&side.earthing_conductor)),
        ("bonding_needed", bonding_needed),
        ("rcd", need(case, &side.rcd, doubt)),
        ("electrode_sought", sought),
        ("stable", side.stable.map_or(Out::Null, Out::Bool)),
        ("armour", armour(&side.armour)),
        ("lost", lost(case, &side.lost)),
        (
            "through_electrode",
            figure(side.through_electrode, Unit::Ampere, Up),
        ),
        (
            "grave",
            Out::Count(side.cautions.intersection(Caution::grave()).bits()),
        ),
        (
            "cautions",
            Out::Count(side.cautions.difference(Caution::grave()).bits()),
        ),
        ("working", Out::List(working)),
        ("edits", Out::List(edits(case, side))),
    ])
}

fn need(case: &Case<'_>, need: &RcdNeed, doubt: Outcome) -> Out {
    let word = |word: &'static str| ("need", Out::from(word));
    Out::Fields(match need {
        RcdNeed::None => vec![word("none")],
        RcdNeed::This {
            rcd,
            selective,
            outcome,
            check,
        } => vec![
            word("this"),
            ("rcd", rcd_value(*rcd)),
            ("selective", (*selective as u8).into()),
            ("outcome", outcome_name(outcome.worse(doubt)).into()),
            ("check", check.map(|c| name_in(&CHECKS, c)).into()),
        ],
        RcdNeed::NoneServes => vec![word("none-serves")],
        RcdNeed::NotKnown(missing) => vec![word("not-known"), ("missing", lacking(case, *missing))],
    })
}

fn armour(of: &Armour) -> Out {
    let (word, other) = match of {
        Armour::None => ("none", None),
        Armour::Through => ("through", None),
        Armour::ApartAtBuilding { apart_at_origin } => ("apart", Some(*apart_at_origin)),
    };
    Out::Fields(vec![
        ("armour", word.into()),
        ("apart_at_origin", other.map(outcome_name).into()),
    ])
}

fn lost(case: &Case<'_>, of: &Lost) -> Out {
    let word = |word: &'static str| ("lost", Out::from(word));
    let mut out = Vec::new();
    match of {
        Lost::NotJoined => out.push(word("not-joined")),
        Lost::NotKnown(missing) => {
            out.extend([word("not-known"), ("missing", lacking(case, *missing))]);
        }
        Lost::Apart(Err(missing)) => {
            out.extend([word("apart"), ("missing", lacking(case, *missing))]);
        }
        Lost::Apart(Ok(between)) => {
            out.push(word("apart"));
            out.extend(span(*between));
        }
        Lost::Rises {
            metal,
            electrode,
            current,
            sought,
        } => {
            out.push(word("rises"));
            out.extend(span(*metal));
            let (kind, ra) = match sought {
                None => ("impossible", None),
                Some(Sought::None) => ("none", None),
                Some(Sought::AtMost(r)) => ("at-most", Some(*r)),
            };
            out.extend([
                ("electrode", ohms(*electrode, Nearest)),
                ("current", figure(*current, Unit::Ampere, Up)),
                ("sought", kind.into()),
                ("sought_ra", ohms(ra, Down)),
            ]);
        }
    }
    Out::Fields(out)
}

/// What makes the job so.
fn edits(case: &Case<'_>, side: &Side) -> Vec<Out> {
    let own = side.scheme == Scheme::OwnElectrode;
    let kind = if own { "own-electrode" } else { "as-supply" };
    let mut out = vec![
        case.edit("earthing", kind.into()),
        case.edit(
            "site.in_addition",
            Out::Bool(side.scheme == Scheme::ExtendWithElectrode),
        ),
    ];
    if let (true, None, (Some(ra), _)) = (own, case.site.ra, resistance(case.site)) {
        out.push(case.edit("ra", up_to_hundredth(ra.get()).into()));
    }
    // At the start of the feed, and so in front of the board's own metal.
    let feed = case.house.board(case.id).and_then(|b| b.fed_by);
    if let (RcdNeed::This { rcd, .. }, Some(feed)) = (side.rcd, feed) {
        out.push(case.edit("rcd", Out::Null));
        out.push(Out::Fields(vec![
            ("path", path::of_circuit(feed.0, "rcd").into()),
            ("value", rcd_value(rcd)),
        ]));
    }
    out
}

/// What the electrode of a board will be, and what `target` takes.
#[must_use]
pub fn electrode(job: &mut Job<'_>, board: &str, target: Option<f32>) -> Out {
    let Some(case) = Case::of(job, board) else {
        return unread("unread");
    };
    let site = case.site;
    let mut open: Vec<Out> = Vec::new();
    let mut needs = |there: bool, key: &str| {
        if !there {
            open.push(case.path(key).into());
        }
    };
    needs(site.electrode.is_some(), "site.electrode");
    needs(site.resistivity.is_some(), "site.resistivity");
    needs(site.season.is_some(), "site.season");
    for key in site.electrode.iter().flat_map(|e| &e.open) {
        let dot = crate::out::joined(&["site.electrode.", key]);
        needs(false, &dot);
    }
    let whole = site.electrode.as_ref().and_then(|e| e.whole);
    let mut working = Vec::new();
    let mut fields = vec![("error", Out::Null)];
    let worst = planned(site).map(|(e, rho, season)| {
        e.work(rho, season, |l| working.push(line(&l)));
        e.resistance(rho, season)
    });
    let today = whole
        .zip(site.resistivity)
        .map(|(e, rho)| e.resistance(rho, Season::WORST_ALREADY));
    let other = planned(site).and_then(|(e, rho, season)| {
        let r = e.approximate(rho)?.get() * season.get();
        Some(r)
    });
    // Over all that its kind of soil may have.
    let range = whole.zip(site.soil).map(|(e, soil)| {
        let (low, high) = soil.typical_resistivity();
        let season = site.season.unwrap_or(Season::WORST_ALREADY);
        [low, high].map(|rho| e.resistance(rho, season).get())
    });
    let range = range.map_or([None, None], |[low, high]| [Some(low), Some(high)]);
    let soil = site.soil.map(|s| {
        let (low, high) = s.typical_resistivity();
        Out::List(vec![low.get().into(), high.get().into()])
    });
    let [low, high] = range.map(|r| figure(r, Unit::Ohm, Up));
    fields.extend([
        ("open", Out::List(open)),
        ("resistance", ohms(worst, Up)),
        ("today", ohms(today, Up)),
        ("approximate", figure(other, Unit::Ohm, Nearest)),
        (
            "stable",
            worst.map_or(Out::Null, |r| Out::Bool(r.get() <= STABLE)),
        ),
        ("soil", soil.into()),
        ("soil_low", low),
        ("soil_high", high),
        (
            "seasons",
            Out::List(vec![Season::TYPICAL.0.into(), Season::TYPICAL.1.into()]),
        ),
        ("working", Out::List(working)),
    ]);
    let target = target.and_then(|t| Ohms::new(t).ok());
    fields.push((
        "reverse",
        target.map_or(Out::Null, |target| reverse(&case, target)),
    ));
    Out::Fields(fields)
}

/// Why there is none.
fn refused(e: Error) -> Out {
    Out::Fields(vec![("reason", reason_name(e.reason).into())])
}

fn reverse(case: &Case<'_>, target: Ohms) -> Out {
    let site = case.site;
    let (Some(rho), Some(season)) = (site.resistivity, site.season) else {
        return Out::Null;
    };
    let electrode = site.electrode.as_ref();
    let diameter = electrode.and_then(|e| e.diameter);
    let length = diameter.map_or(Out::Null, |d| match rod_length(target, d, rho, season) {
        Ok(l) => figure(Some(up_to_tenth(l.get())), Unit::Metre, Up),
        Err(e) => refused(e),
    });
    Out::Fields(vec![
        ("target", ohms(Some(target), Down)),
        ("rod_length", length),
        (
            "rods",
            electrode.map_or(Out::Null, |e| rods(case, e, target, rho, season)),
        ),
        (
            "meets",
            planned(site).map_or(Out::Null, |(e, rho, season)| {
                Out::Bool(e.resistance(rho, season).get() <= target.get())
            }),
        ),
    ])
}

/// The fewest rods like that which is planned, at their distance; twice their length where none is entered.
fn rods(case: &Case<'_>, planned: &Planned, target: Ohms, rho: OhmMetres, season: Season) -> Out {
    let Some(rod) = planned.rod else {
        return Out::Null;
    };
    let square = matches!(planned.whole, Some(Electrode::Rods(r)) if matches!(r.layout(), Layout::HollowSquare(_)));
    let kind = if square {
        Layout::HollowSquare(0)
    } else {
        Layout::Line(0)
    };
    let spacing = planned.spacing.or(twice(rod));
    let Some(spacing) = spacing else {
        return Out::Null;
    };
    match rods_needed(target, rod, kind, spacing, rho, season) {
        Ok(rods) => {
            let r = Electrode::Rods(rods).resistance(rho, season);
            let layout = names::LAYOUTS.name_of(square);
            let (Layout::Line(in_layout) | Layout::HollowSquare(in_layout)) = rods.layout();
            Out::Fields(vec![
                ("count", rods.layout().rods().into()),
                ("layout", layout.into()),
                ("length", figure(Some(rod.length().get()), Unit::Metre, Up)),
                ("spacing", figure(Some(spacing.get()), Unit::Metre, Up)),
                ("resistance", ohms(Some(r), Up)),
                (
                    "edits",
                    Out::List(vec![
                        case.edit("site.electrode.kind", "rods".into()),
                        case.edit("site.electrode.layout", layout.into()),
                        case.edit("site.electrode.count", in_layout.into()),
                        case.edit("site.electrode.spacing", spacing.get().into()),
                    ]),
                ),
            ])
        }
        Err(e) => refused(e),
    }
}

fn twice(rod: Rod) -> Option<Metres> {
    Metres::new(2.0 * rod.length().get()).ok()
}
