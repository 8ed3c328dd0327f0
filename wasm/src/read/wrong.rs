//! What can be wrong with a job by its format alone. Its words are in [`crate::catalogue`].

/// What a field must be and is not, or why it must not be there. Its number is its place among the words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Wrong {
    /// Must be a list.
    List,
    /// Must be a list of three readings.
    ThreeReadings,
    /// Must be a text.
    Text,
    /// Must be a name that is not empty.
    Name,
    /// Must be an object.
    Object,
    /// Has more fields than the format.
    Fields,
    /// Must be a number.
    Number,
    /// Must be a whole number up to 255.
    Whole,
    /// Must be true or false.
    Flag,
    /// Must be a number of phases.
    Phases,
    /// Must be the name of a circuit, or null.
    Feed,
    /// Must be a multiple a device is tested at.
    Multiple,
    /// Is none of the choices, which are with the error.
    Choice,
    /// Is no profile there is.
    Profile,
    /// Is no job at all.
    Format,
    /// Is a version that never was.
    Version,
    /// Was made by a newer version.
    Newer,
    /// Another one has the same name.
    UsedTwice,
    /// The format has no such field.
    Unknown,
}

impl Wrong {
    /// All of them, in the order of their numbers.
    pub const ALL: [Wrong; 19] = [
        Wrong::List,
        Wrong::ThreeReadings,
        Wrong::Text,
        Wrong::Name,
        Wrong::Object,
        Wrong::Fields,
        Wrong::Number,
        Wrong::Whole,
        Wrong::Flag,
        Wrong::Phases,
        Wrong::Feed,
        Wrong::Multiple,
        Wrong::Choice,
        Wrong::Profile,
        Wrong::Format,
        Wrong::Version,
        Wrong::Newer,
        Wrong::UsedTwice,
        Wrong::Unknown,
    ];

    /// A word for the kind of it.
    #[must_use]
    pub const fn reason(self) -> &'static str {
        match self {
            Wrong::Choice | Wrong::Profile | Wrong::Format | Wrong::Version => "no-such-choice",
            Wrong::Newer => "newer-version",
            Wrong::UsedTwice => "used-twice",
            Wrong::Unknown => "unknown-field",
            _ => "wrong-kind",
        }
    }
}
