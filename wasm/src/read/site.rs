//! Where a board stands: the soil, the electrode that is planned, what its earthing is compared by. Beside the
//! job, and judged by nothing else: what is left empty is not known yet, and no error.

use super::Wrong;
use super::fields::{Errors, Fields};
use crate::names::{self, ElectrodeKind as Kind};
use crate::path::Path;
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::value::Value;
use faultpath::device::RcdType;
use faultpath::earthing::electrode::{
    Electrode, Foundation, Layout, Plate, Rod, Rods, Season, Soil, Tape,
};
use faultpath::earthing::situations::Situation;
use faultpath::error::{Error, Field, Reason};
use faultpath::quantity::{Metres, OhmMetres, Ohms, Ratio, Volts};

/// What a board's `site` says, and its `ra`.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Resistance of the electrode as entered, with its conductor, in the worst season.
    pub ra: Option<Ohms>,
    /// Soil.
    pub soil: Option<Soil>,
    /// Its resistivity.
    pub resistivity: Option<OhmMetres>,
    /// How much worse the worst season is.
    pub season: Option<Season>,
    /// The electrode that is planned.
    pub electrode: Option<Planned>,
    /// Whether one is part of the design in addition to the earth over the feed.
    pub in_addition: bool,
    /// The kind of RCD its loads ask for.
    pub rcd_kind: RcdType,
    /// The smallest load of a line, as a share; none is any.
    pub least_load: Option<Ratio>,
    /// The voltage on metal that a lost neutral shall not pass; none is that of the rules.
    pub limit: Option<Volts>,
    /// The resistance that is looked for; none is what the job asks for.
    pub target: Option<Ohms>,
    /// What is there.
    pub situations: Vec<Situation>,
}

/// Nothing is said of it. RCDs are then of the kind that is at home everywhere: what its loads ask for is looked
/// at where they are.
const NOTHING: Site = Site {
    ra: None,
    soil: None,
    resistivity: None,
    season: None,
    electrode: None,
    in_addition: false,
    rcd_kind: RcdType::A,
    least_load: None,
    limit: None,
    target: None,
    situations: Vec::new(),
};

/// An electrode, as far as it is entered.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// What it is.
    pub kind: Kind,
    /// What it is, unless something is not entered yet.
    pub whole: Option<Electrode>,
    /// The fields that are not entered yet.
    pub open: Vec<&'static str>,
    /// One rod of it, where it is of rods.
    pub rod: Option<Rod>,
    /// Its diameter, where it is of rods.
    pub diameter: Option<Metres>,
    /// The distance between rods.
    pub spacing: Option<Metres>,
}

/// Shares are of something whole.
fn part_of_one(v: f32) -> Result<Ratio, Reason> {
    let share = Ratio::new(v)?;
    if share.get() > 1.0 {
        return Err(Reason::TooLarge);
    }
    Ok(share)
}

fn season(v: f32) -> Result<Season, Reason> {
    Season::new(Ratio::new(v)?).map_err(|e| e.reason)
}

/// The site of a board; none that can't be read. Its `ra` is read by the board, which names what is wrong
/// with it.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn site(board: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Site> {
    let ra = match board.get("ra") {
        Value::Number(v) => Ohms::new(*v as f32).ok(),
        _ => None,
    };
    let value = board.get("site");
    if matches!(value, Value::Null) {
        return Some(Site { ra, ..NOTHING });
    }
    let path = Path::Key(path, "site");
    let mut f = Fields::of(value, &path, errors)?;
    let soil = match f.get("soil") {
        Value::Null => None,
        _ => f.choice("soil", names::SOILS),
    };
    let resistivity = f.maybe("resistivity", Field::SoilResistivity, OhmMetres::new);
    let season = f.maybe("season", Field::Season, season);
    let electrode = f.object("electrode", electrode);
    let in_addition = f.flag("in_addition", false);
    let rcd_kind = f.choice("rcd_kind", names::RCD_TYPES);
    let least_load = f.maybe("least_load", Field::Diversity, part_of_one);
    let limit = f.maybe("limit", Field::Limit, Volts::new);
    let target = f.maybe("target", Field::Ra, Ohms::new);
    let situations = f.part("situations", situations);
    f.finish()?;
    Some(Site {
        ra,
        soil,
        resistivity,
        season,
        electrode,
        in_addition,
        rcd_kind: rcd_kind?,
        least_load,
        limit,
        target,
        situations: situations?,
    })
}

fn situations(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Vec<Situation>> {
    let Value::List(items) = value else {
        errors.at(path, Wrong::List);
        return None;
    };
    let mut good = true;
    let mut out = Vec::new();
    for (i, item) in items.iter().enumerate() {
        let found = errors.pick(item, names::SITUATIONS.names, &Path::At(path, i));
        good &= found.is_some();
        out.extend(found.and_then(|i| names::SITUATIONS.values.get(i)));
    }
    good.then_some(out)
}

fn electrode(value: &Value, path: &Path<'_>, errors: &mut Errors) -> Option<Planned> {
    let mut f = Fields::of(value, path, errors)?;
    let kind = f.choice("kind", names::ELECTRODES);
    let mut side = |key| f.maybe(key, Field::Side, Metres::new);
    let (width, height) = (side("width"), side("height"));
    let length = f.maybe("length", Field::Length, Metres::new);
    let depth = f.maybe("depth", Field::Depth, Metres::new);
    let diameter = f.maybe("diameter", Field::Diameter, Metres::new);
    let spacing = f.maybe("spacing", Field::Spacing, Metres::new);
    let count = match f.get("count") {
        Value::Null => None,
        _ => f.count("count", Field::Rods),
    };
    let layout = match f.get("layout") {
        Value::Null => None,
        _ => f.choice("layout", names::LAYOUTS),
    };
    let contact = match f.get("in_contact") {
        Value::Null => None,
        _ => Some(f.flag("in_contact", false)),
    };
    f.finish()?;
    let kind = kind?;
    let mut open = Vec::new();
    let mut needs = |key, there: bool| {
        if !there {
            open.push(key);
        }
    };
    let sized = [
        ("length", length.is_some()),
        ("width", width.is_some()),
        ("depth", depth.is_some()),
    ];
    match kind {
        Kind::Rod | Kind::Rods => {
            needs("length", length.is_some());
            needs("diameter", diameter.is_some());
            if kind == Kind::Rods {
                needs("count", count.is_some());
                needs("layout", layout.is_some());
                needs("spacing", spacing.is_some());
            }
        }
        Kind::Plate => {
            needs("width", width.is_some());
            needs("height", height.is_some());
        }
        Kind::Tape => sized.into_iter().for_each(|(key, there)| needs(key, there)),
        Kind::Wire => {
            needs("length", length.is_some());
            needs("depth", depth.is_some());
            needs("diameter", diameter.is_some());
        }
        Kind::Foundation => {
            sized.into_iter().for_each(|(key, there)| needs(key, there));
            needs("in_contact", contact.is_some());
        }
    }
    let mut out = Planned {
        kind,
        whole: None,
        open,
        rod: None,
        diameter,
        spacing,
    };
    let made = match (kind, length, width.or(height), depth, diameter) {
        (Kind::Rod | Kind::Rods, Some(l), _, _, Some(d)) => Rod::new(l, d).and_then(|rod| {
            out.rod = Some(rod);
            match (kind, count, layout, spacing) {
                (Kind::Rods, Some(n), Some(square), Some(s)) => {
                    let layout = if square {
                        Layout::HollowSquare(n)
                    } else {
                        Layout::Line(n)
                    };
                    Rods::new(rod, layout, s).map(|r| Some(Electrode::Rods(r)))
                }
                (Kind::Rods, ..) => Ok(None),
                _ => Ok(Some(Electrode::Rod(rod))),
            }
        }),
        (Kind::Plate, _, Some(_), ..) => match (width, height) {
            (Some(w), Some(h)) => Plate::new(w, h).map(|p| Some(Electrode::Plate(p))),
            _ => Ok(None),
        },
        (Kind::Tape, Some(l), Some(w), Some(h), _) => {
            Tape::strip(l, h, w).map(|t| Some(Electrode::Tape(t)))
        }
        (Kind::Wire, Some(l), _, Some(h), Some(d)) => {
            Tape::wire(l, h, d).map(|t| Some(Electrode::Tape(t)))
        }
        (Kind::Foundation, Some(l), Some(w), Some(d), _) => match contact {
            Some(contact) => {
                Foundation::new(l, w, d, contact).map(|e| Some(Electrode::Foundation(e)))
            }
            None => Ok(None),
        },
        _ => Ok(None),
    };
    match made {
        Ok(whole) => out.whole = whole,
        Err(e) => {
            let key = key_of(kind, e, (length, width, height));
            f.refuse(key, e);
            return None;
        }
    }
    Some(out)
}

/// The field an error of core is about. A side that is wrong is wrong by itself.
fn key_of(
    kind: Kind,
    e: Error,
    sides: (Option<Metres>, Option<Metres>, Option<Metres>),
) -> &'static str {
    let (length, width, height) = sides;
    match (e.field, kind) {
        (Field::Length, _) => "length",
        (Field::Depth, _) => "depth",
        (Field::Diameter, Kind::Tape) => "width",
        (Field::Diameter, _) => "diameter",
        (Field::Spacing, _) => "spacing",
        (Field::Rods, _) => "count",
        (_, Kind::Plate) => {
            let wrong = |side: Option<Metres>| side.is_some_and(|s| Plate::new(s, s).is_err());
            if wrong(width) || !wrong(height) {
                "width"
            } else {
                "height"
            }
        }
        _ if e.reason == Reason::Contradiction => "in_contact",
        _ => {
            let wrong = |side: Option<Metres>| {
                side.is_some_and(|s| Foundation::new(s, s, s, true).is_err())
            };
            if wrong(length) {
                "length"
            } else if wrong(width) {
                "width"
            } else {
                "depth"
            }
        }
    }
}
