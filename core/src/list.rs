//! Lists of everything an enumeration has.

/// Gives an enumeration without data its `ALL`, in the order of declaration, so that `ALL[n] as usize == n`:
/// what is handed out as a number is found again. One that is forgotten or out of order does not compile.
macro_rules! listed {
    ($name:ident: $($variant:ident)+) => {
        impl $name {
            /// Every one there is, in the order of their numbers.
            pub const ALL: [$name; [$($name::$variant),+].len()] = {
                #[allow(clippy::indexing_slicing)] // below the length, and at compile time
                const fn in_order(all: &[$name]) -> bool {
                    let mut n = 0;
                    while n < all.len() {
                        // Here also to be exhaustive.
                        let number = match all[n] {
                            $($name::$variant => $name::$variant as usize),+
                        };
                        if number != n {
                            return false;
                        }
                        n += 1;
                    }
                    true
                }
                let all = [$($name::$variant),+];
                assert!(in_order(&all));
                all
            };
        }
    };
}
pub(crate) use listed;
