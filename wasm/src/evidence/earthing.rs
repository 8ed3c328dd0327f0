//! Questions on electrodes, lost neutrals and schemes of earthing.

use super::{Inputs as Given, No as Left, Reply};
use crate::answer::outcome_name;
use crate::names::{self, Choices, SCHEMES, SITUATIONS, SOILS};
#[cfg(target_os = "none")]
use crate::prelude::*;
use crate::read;
use faultpath::device::RcdDelay;
use faultpath::earthing::electrode::{
    Electrode, Foundation, Layout, Plate, Rod, Rods, Season, Tape, largest_ra, rod_length,
    rods_needed, touch_voltage,
};
use faultpath::earthing::lost_neutral::{LineLoad, LostNeutral, Sought};
use faultpath::earthing::options::{self, Armour, Lost, Outbuilding, RcdNeed, Selective};
use faultpath::earthing::situations::Stance;
use faultpath::error::{Error, Reason};
use faultpath::network::BoardId;
use faultpath::quantity::{Amps, Metres, OhmMetres, Ohms, Ratio, Volts};

/// Why there is no value; what is already noted with the inputs is only `Said`.
enum No {
    Said,
    NotKnown,
    Refused(Reason),
}

impl From<Error> for No {
    fn from(e: Error) -> Self {
        No::Refused(e.reason)
    }
}

/// The inputs, each an error where it can't be taken.
struct Inputs<'v>(&'v Given<'v>);

impl<'v> Inputs<'v> {
    fn get(&self, key: &str) -> &'v crate::value::Value {
        self.0.get(key)
    }

    fn maybe<T>(&self, key: &str, make: fn(f32) -> Result<T, Reason>) -> Result<Option<T>, No> {
        self.0.maybe(key, make).ok_or(No::Said)
    }

    fn need<T>(&self, key: &str, make: fn(f32) -> Result<T, Reason>) -> Result<T, No> {
        self.0.need(key, make).ok_or(No::Said)
    }

    fn choice<T: Copy>(&self, key: &str, choices: Choices<T>) -> Result<T, No> {
        self.0.choice(key, choices).ok_or(No::Said)
    }

    fn text(&self, key: &str) -> Result<&'v str, No> {
        self.0.text(key).ok_or(No::Said)
    }

    fn count(&self, key: &str) -> Result<u8, No> {
        self.0.count(key).ok_or(No::Said)
    }

    fn flag(&self, key: &str) -> bool {
        self.0.flag(key)
    }

    fn wrong(&self, text: &str) -> No {
        let _: Option<()> = self.0.wrong(&[text]);
        No::Said
    }
}

fn metres(i: &Inputs<'_>, key: &str) -> Result<Metres, No> {
    i.need(key, Metres::new)
}

fn resistivity(i: &Inputs<'_>) -> Result<OhmMetres, No> {
    i.need("resistivity", OhmMetres::new)
}

fn season(i: &Inputs<'_>) -> Result<Season, No> {
    Ok(match i.maybe("season", Ratio::new)? {
        Some(factor) => Season::new(factor)?,
        None => Season::WORST_ALREADY,
    })
}

fn rod(i: &Inputs<'_>) -> Result<Rod, No> {
    Ok(Rod::new(metres(i, "length")?, metres(i, "diameter")?)?)
}

fn layout(i: &Inputs<'_>, count: u8) -> Result<Layout, No> {
    match i.text("layout")? {
        "line" => Ok(Layout::Line(count)),
        "hollow-square" => Ok(Layout::HollowSquare(count)),
        _ => Err(i.wrong("no such layout")),
    }
}

fn spacing(i: &Inputs<'_>) -> Result<Metres, No> {
    metres(i, "spacing")
}

fn lost(i: &Inputs<'_>) -> Result<LostNeutral, No> {
    let u0 = i.need("u0", Volts::new)?;
    let factor = i.need("factor", Ratio::new)?;
    let line = |current: &str, power_factor: &str| -> Result<Option<LineLoad>, No> {
        Ok(match i.maybe(current, Amps::new)? {
            Some(current) => Some(LineLoad {
                current,
                power_factor: i.need(power_factor, Ratio::new)?,
            }),
            None => None,
        })
    };
    match line("current", "power_factor")? {
        Some(load) => Ok(LostNeutral::single(u0, factor, load)?),
        None => Ok(LostNeutral::three(
            u0,
            factor,
            [
                line("current_1", "power_factor_1")?,
                line("current_2", "power_factor_2")?,
                line("current_3", "power_factor_3")?,
            ],
        )?),
    }
}

fn electrode(i: &Inputs<'_>, key: &str) -> Result<Option<Ohms>, No> {
    i.maybe(key, Ohms::new)
}

fn least(i: &Inputs<'_>) -> Result<Ratio, No> {
    i.need("least", Ratio::new)
}

fn limit(i: &Inputs<'_>) -> Result<Volts, No> {
    i.need("limit", Volts::new)
}

/// `Some(None)` where it is none of these questions.
pub(super) fn reply(name: &str, given: &Given<'_>) -> Option<Option<Reply>> {
    let i = Inputs(given);
    match answer(name, &i) {
        Ok(reply) => Some(reply),
        Err(No::Said) => None,
        Err(No::NotKnown) => {
            given.no.set(Left::NotKnown);
            None
        }
        Err(No::Refused(reason)) => given.refused(reason),
    }
}

fn answer(name: &str, i: &Inputs<'_>) -> Result<Option<Reply>, No> {
    let of =
        |e: Electrode| -> Result<f32, No> { Ok(e.resistance(resistivity(i)?, season(i)?).get()) };
    let side = |key: &str| metres(i, key);
    let value = match name {
        "rod" => of(Electrode::Rod(rod(i)?))?,
        "rods" => of(Electrode::Rods(Rods::new(
            rod(i)?,
            layout(i, i.count("count")?)?,
            spacing(i)?,
        )?))?,
        "rods-lambda" => layout(i, i.count("count")?)?.lambda(),
        "plate" => of(Electrode::Plate(Plate::new(
            side("width")?,
            side("height")?,
        )?))?,
        "wire" | "tape" => {
            let length = metres(i, "length")?;
            let depth = metres(i, "depth")?;
            of(Electrode::Tape(if name == "wire" {
                Tape::wire(length, depth, metres(i, "diameter")?)?
            } else {
                Tape::strip(length, depth, metres(i, "width")?)?
            }))?
        }
        "foundation" => of(Electrode::Foundation(Foundation::new(
            side("length")?,
            side("width")?,
            side("depth")?,
            i.flag("in_contact"),
        )?))?,
        "soil-resistivity" => {
            let (low, high) = i.choice("soil", SOILS)?.typical_resistivity();
            match i.text("bound")? {
                "low" => low.get(),
                "high" => high.get(),
                _ => return Err(i.wrong("no such bound")),
            }
        }
        "rod-length" => rod_length(
            i.need("target", Ohms::new)?,
            metres(i, "diameter")?,
            resistivity(i)?,
            season(i)?,
        )?
        .get(),
        "rods-needed" => f32::from(
            rods_needed(
                i.need("target", Ohms::new)?,
                rod(i)?,
                layout(i, 0)?,
                spacing(i)?,
                resistivity(i)?,
                season(i)?,
            )?
            .layout()
            .rods(),
        ),
        "touch-voltage" => {
            touch_voltage(i.need("ra", Ohms::new)?, i.need("sensitivity", Amps::new)?)
        }
        "largest-ra" => largest_ra(limit(i)?, i.need("sensitivity", Amps::new)?)?.get(),
        "lost-neutral" => lost(i)?.metal(electrode(i, "electrode")?),
        "lost-neutral-most" => lost(i)?.span(electrode(i, "electrode")?, least(i)?).high,
        "lost-neutral-across" => {
            let line = usize::from(i.count("line")?);
            let across = lost(i)?.across(electrode(i, "electrode")?);
            let at = line.checked_sub(1).and_then(|k| across.get(k).copied());
            at.flatten().ok_or(No::NotKnown)?
        }
        "lost-neutral-electrode" => {
            match lost(i)?.electrode_for(limit(i)?, electrode(i, "beside")?, least(i)?)? {
                Sought::AtMost(r) => r.get(),
                Sought::None => return Ok(Some(word("none"))),
            }
        }
        "situation" => {
            return Ok(Some(word(
                match i.choice("situation", SITUATIONS)?.stance() {
                    Stance::Ask => "ask",
                    Stance::Doubtful => "doubtful",
                    Stance::NotAllowed => "not-allowed",
                },
            )));
        }
        "earthing-scheme" => return scheme(i).map(Some),
        _ => return Ok(None),
    };
    Ok(Some(Reply::Number { value }))
}

fn word(value: &str) -> Reply {
    Reply::Word {
        value: value.to_owned(),
    }
}

fn scheme(i: &Inputs<'_>) -> Result<Reply, No> {
    let mut job = read::read(i.get("job"));
    let id = i.text("board")?;
    let board = job
        .boards
        .iter()
        .position(|b| *b == id)
        .and_then(|n| u16::try_from(n).ok())
        .ok_or_else(|| i.wrong("no such board"))?;
    let house = job.house.as_deref_mut().ok_or(No::NotKnown)?;
    let earthing = i.choice("earthing", names::EARTHINGS)?;
    let what = Outbuilding {
        board: BoardId(board),
        electrode: electrode(i, "electrode")?,
        rcd_type: i.choice("kind", names::RCD_TYPES)?,
        least_load: least(i)?,
        limit: limit(i)?,
    };
    let scheme = i.choice("scheme", SCHEMES)?;
    let sides = options::compare(house, earthing, &what)?;
    let side = sides
        .into_iter()
        .find(|s| s.scheme == scheme)
        .ok_or(No::NotKnown)?;
    let number = |value: f32| Ok(Reply::Number { value });
    match (i.text("want")?, side.rcd, side.lost) {
        ("outcome", ..) => Ok(word(outcome_name(side.outcome))),
        ("feed", ..) => Ok(word(outcome_name(side.feed))),
        ("rcd-sensitivity", RcdNeed::This { rcd, .. }, _) => number(rcd.sensitivity().get()),
        ("rcd-delay", RcdNeed::This { rcd, .. }, _) => Ok(word(match rcd.delay() {
            RcdDelay::None => "none",
            RcdDelay::Selective => "selective",
        })),
        ("rcd-selective", RcdNeed::This { selective, .. }, _) => Ok(word(match selective {
            Selective::NothingBehind => "nothing-behind",
            Selective::Yes => "yes",
            Selective::No => "no",
        })),
        ("rcd-outcome", RcdNeed::This { outcome, .. }, _) => Ok(word(outcome_name(outcome))),
        ("rcd", need, _) => Ok(word(match need {
            RcdNeed::None => "none",
            RcdNeed::This { .. } => "this",
            RcdNeed::NoneServes => "none-serves",
            RcdNeed::NotKnown(_) => "not-known",
        })),
        ("electrode-sought", ..) => number(side.electrode_sought.ok_or(No::NotKnown)?.1.get()),
        ("bonding", ..) => number(side.bonding_needed.map_err(|_| No::NotKnown)?.get()),
        ("armour", ..) => Ok(word(match side.armour {
            Armour::None => "none",
            Armour::Through => "through",
            Armour::ApartAtBuilding { .. } => "apart-at-building",
        })),
        ("metal-low", _, Lost::Rises { metal, .. }) => number(metal.low),
        ("metal-high", _, Lost::Rises { metal, .. }) => number(metal.high),
        ("between-high", _, Lost::Apart(Ok(span))) => number(span.high),
        (
            "lost-current",
            _,
            Lost::Rises {
                current: Some(i), ..
            },
        ) => number(i),
        (
            "lost-electrode",
            _,
            Lost::Rises {
                sought: Some(Sought::AtMost(r)),
                ..
            },
        ) => number(r.get()),
        _ => Err(No::NotKnown),
    }
}
