//! Codes: all of core's words have one, no two the same, and the way back is the way there. The rest of the
//! interface is tested in C, where it is used (`c/refusals.c`).

use crate::*;
use faultpath::supply::Earthing;
use faultpath::verdict::Outcome;

#[test]
fn what_comes_out_has_a_code() {
    macro_rules! all_told {
        ($($code:ident from $core:ty;)*) => {$(
            let mut codes: std::vec::Vec<u8> = <$core>::ALL.iter().map(|v| $code::from(*v) as u8).collect();
            codes.sort_unstable();
            let wanted: std::vec::Vec<u8> = (1..).take(<$core>::ALL.len()).collect();
            assert_eq!(codes, wanted, "{}", stringify!($code));
        )*};
    }
    // From core's own lists, which hold all there is or do not compile: a new word there is missed here.
    all_told!(
        fp_check from faultpath::verdict::Check;
        fp_rule from faultpath::verdict::Rule;
        fp_unit from faultpath::verdict::Unit;
        fp_test from faultpath::reading::Test;
        fp_meaning from faultpath::reading::Meaning;
        fp_reading_rule from faultpath::reading::Rule;
        fp_field from faultpath::error::Field;
        fp_reason from faultpath::error::Reason;
    );
}

#[test]
fn zero_is_never_a_choice() {
    macro_rules! refused {
        ($($code:ident)*) => {$(
            assert_eq!($code::of(0), None);
            let codes: std::vec::Vec<u8> = (0..=255).filter(|c| $code::of(*c).is_some()).collect();
            assert!(codes.iter().enumerate().all(|(n, c)| usize::from(*c) == n + 1));
            assert!(codes.iter().all(|c| $code::of(*c).is_some_and(|v| v as u8 == *c)));
        )*};
    }
    refused!(
        fp_family fp_rcd_type fp_rcd_delay fp_phases fp_earthing fp_origin fp_drop_basis fp_phase fp_shape fp_use
        fp_load_class fp_part fp_material fp_insulation fp_construction fp_method fp_wave fp_multiple fp_sense
        fp_enclosure fp_fault_level fp_feed fp_demand fp_protective fp_arrangement fp_circuit_class
    );
    assert_ne!(fp_outcome::Pass as u8, 0);
}

#[test]
fn outcomes_keep_their_order() {
    let all = [
        Outcome::Pass,
        Outcome::Doubtful,
        Outcome::CannotSay,
        Outcome::Fail,
    ];
    for pair in all.windows(2) {
        let [a, b] = pair else { continue };
        assert!(a < b && (fp_outcome::from(*a) as u8) < (fp_outcome::from(*b) as u8));
    }
}

#[test]
fn earthing_there_and_back() {
    for e in [Earthing::TnS, Earthing::TnCS, Earthing::Tt] {
        let code = crate::single::earthing_code(e);
        assert!(crate::single::one_earthing(code as u8).is_ok_and(|(back, _)| back == e));
    }
    assert!(crate::single::one_earthing(fp_earthing::NotKnown as u8).is_err());
}

/// The flags of core, by the constants of the header.
#[test]
fn flags_are_those_of_core() {
    use faultpath::reading::{Lacking as Reading, Suspects};
    use faultpath::verdict::{Assumed, Lacking};
    let ours = [
        FP_LACKING_ZE,
        FP_LACKING_LET_THROUGH,
        FP_LACKING_UPSTREAM,
        FP_LACKING_LOADS,
    ];
    let core = [
        Lacking::ZE,
        Lacking::LET_THROUGH,
        Lacking::UPSTREAM,
        Lacking::LOADS,
    ];
    assert_eq!(ours, core.map(|f| f.bits()));
    assert_eq!(Lacking::all().bits(), 2 * FP_LACKING_ENCLOSURE - 1);
    assert_eq!(Assumed::all().bits(), 2 * FP_ASSUMED_INSULATED_FRONT - 1);
    assert_eq!(FP_ASSUMED_RCD_UPSTREAM, Assumed::RCD_UPSTREAM.bits());
    assert_eq!(
        u32::from(Reading::all().bits()),
        2 * FP_READING_LACKING_ACCURACY - 1
    );
    assert_eq!(FP_READING_LACKING_RCD, u32::from(Reading::RCD.bits()));
    assert_eq!(Suspects::all().bits(), 2 * FP_SUSPECT_LEADS - 1);
    assert_eq!(FP_SUSPECT_SUPPLY, Suspects::SUPPLY.bits());
}

/// A profile's figure that is not known makes others that are no numbers: for a caller there is none.
#[test]
fn what_is_no_number_is_not_given() {
    for v in [None, Some(f32::NAN), Some(f32::INFINITY)] {
        let told = crate::given::optional(v);
        assert_eq!((told.given, told.value), (0, 0.0));
    }
    assert_eq!(crate::given::optional(Some(0.5)).given, 1);
}
