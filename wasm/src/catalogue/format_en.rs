//! What is wrong with a job by its format alone.

use crate::read::Wrong;

/// What to say of it; `{names}` are the choices.
pub(super) const fn wrong(wrong: Wrong) -> &'static str {
    match wrong {
        Wrong::List => "This must be a list.",
        Wrong::ThreeReadings => "This must be a list of three readings.",
        Wrong::Text => "This must be text.",
        Wrong::Name => "This must be a name of its own.",
        Wrong::Object => "This must be an object.",
        Wrong::Fields => "This must be an object with the fields of the format only.",
        Wrong::Number => "This must be a number.",
        Wrong::Whole => "This must be a whole number up to 255.",
        Wrong::Flag => "This must be true or false.",
        Wrong::Phases => "This must be 1 or 3.",
        Wrong::Feed => "This must be the name of a circuit, or null.",
        Wrong::Multiple => "This must be 0.5, 1, 2 or 5.",
        Wrong::Choice => "Choose one of: {names}.",
        Wrong::Profile => "Choose uk or iec, or give a whole profile.",
        Wrong::Format => "This is not a job of this program: its format must be faultpath-job.",
        Wrong::Version => "The version must be 1.",
        Wrong::Newer => "This job was made by a newer version. Update, then open it again.",
        Wrong::UsedTwice => "Another one has the same name. Give each its own.",
        Wrong::Unknown => "The format has no such field. Check its name, or remove it.",
    }
}
