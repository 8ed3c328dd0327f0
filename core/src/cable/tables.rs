//! The tables of current-carrying capacity, typed as they are printed, one value for each size.
//!
//! Copper: BS 7671 Tables 4D1A, 4D2A, 4D4A, 4D5, 4E1A, 4E2A, 4E4A. Their columns A, B, C, E of multicore
//! cables and A, B of single cores are those of IEC 60364-5-52 Tables B.52.2 to B.52.5 and B.52.10, B.52.12
//! (methods A1, A2, B1, B2, C, E), and column D of armoured cables is D1 there. Aluminium: the same IEC tables
//! and BS 7671 Tables 4H4A and 4J4A.
//!
//! Standing. Read in reprints of the tables: 4D1A to 95 mm² (16th edition numbering), 4E1A to 120 mm²,
//! 4E4A to 120 mm², and column B with three loaded cores of 4D2A from 4 to 120 mm². All others are from
//! memory. What supports them:
//! - IEC columns A1, A2, B1, B2, C, D1, E: the fitted form in [`super::fit`]; a test holds the distance.
//!   Above 120 mm² columns B1 and B2 lie up to 10 % under the fit, all others on it.
//! - Single cores in column C and armoured cables above 120 mm²: a steady ratio to the multicore column.
//! - Aluminium in the ground, armoured, and single cores in free air: the ratio to copper that resistance demands.
//! - D2 and the whole of 4D5: nothing but smoothness, and bounds by neighbouring columns.
//!
//! Where two memories or prints differ the smaller stands: 4D1A column A 2.5 mm² 19.5 (BS 20, IEC 19.5);
//! 4E4A column D 4 mm² 43 (one reprint 46); 4D1A on tray, two cables, by the 16th edition (126 to 349) for it lies
//! below the current column F (131 to 352); three cables always in trefoil, which lies below flat.

/// Sizes of the tables, in mm²: those that are made.
pub(super) use crate::conductor::SIZES;

/// By how much capacity is more than that of the size before, for the last `N` of [`SIZES`]; 0 where there is none.
///
/// In half amperes, which print never divides, or as [`halves`] says: half of what the capacities themselves would take.
type Column<const N: usize> = [u8; N];

/// The pairs of columns of a table, for two and for three loaded conductors.
#[derive(Clone, Copy)]
pub(super) enum Pair {
    /// Single cores, methods A, B, C and free air (F: two touching, three in trefoil).
    A1,
    B1,
    SingleC,
    F,
    /// Multicore, methods A, B, C and free air.
    A2,
    B2,
    C,
    E,
    /// In ducts, and direct in the ground.
    D1,
    D2,
    /// Armoured, methods C and free air.
    ArmouredC,
    ArmouredE,
}

/// Every pair of columns of one material and insulation.
pub(super) type Table<const N: usize> = [[Column<N>; 2]; 12];

/// Index in [`SIZES`] of the size a column starts with.
const FROM_1: usize = 0;
const FROM_1_5: usize = 1;
const FROM_10: usize = 5;
const FROM_16: usize = 6;
const FROM_25: usize = 7;

/// Half amperes to one step of a column. Those of single cores in free air begin at a size that carries much.
pub(super) const fn halves(pair: Pair) -> u16 {
    match pair {
        Pair::F => 2,
        _ => 1,
    }
}

/// A column of which some values are given, in half amperes, the first of them at an index of it.
#[allow(clippy::indexing_slicing)] // at compile time
const fn column<const N: usize>(first: usize, given: &[f32], halves: u16) -> Column<N> {
    let mut out = [0; N];
    let mut n = 0;
    let mut before = 0;
    while n < given.len() {
        let value = given[n] as u16;
        assert!(value as f32 == given[n] && value > before);
        let step = (value - before) / halves;
        assert!(step * halves == value - before && step <= u8::MAX as u16);
        out[first + n] = step as u8;
        before = value;
        n += 1;
    }
    out
}

/// What a column, whose first size has this index, has at a size, in amperes.
pub(super) fn amps(column: &[u8], first: usize, csa: f32, halves: u16) -> Option<f32> {
    let mut sum: u16 = 0;
    for (size, step) in SIZES.get(first..)?.iter().zip(column) {
        sum += u16::from(*step);
        if *size == csa {
            // No step: none at this size.
            return (*step > 0).then(|| f32::from(sum * halves) / 2.0);
        }
    }
    None
}

macro_rules! given {
    ($($amps:literal)*) => {
        &[$($amps as f32 * 2.0),*]
    };
}

macro_rules! table {
    ($($pair:ident: $first:ident: $($two:literal)*; $($three:literal)*,)*) => {{
        #[allow(clippy::indexing_slicing)] // at compile time
        const fn of<const N: usize>() -> Table<N> {
            let mut out = [[[0; N]; 2]; 12];
            $(
                let first = $first - (SIZES.len() - N);
                let step = halves(Pair::$pair);
                out[Pair::$pair as usize] =
                    [column(first, given!($($two)*), step), column(first, given!($($three)*), step)];
            )*
            out
        }
        of()
    }};
}

/// Copper, thermoplastic, 70 °C: 4D1A, 4D2A, 4D4A; B.52.2, B.52.4, B.52.10.
#[rustfmt::skip]
pub(super) static COPPER_70: Table<17> = table! {
    //                  1    1.5  2.5  4  6  10 16 25  35  50  70  95  120 150 185 240 300
    A1: FROM_1:   11   14.5 19.5 26 34 46 61 80  99  119 151 182 210 240 273 321 367;
                  10.5 13.5 18   24 31 42 56 73  89  108 136 164 188 216 245 286 328,
    B1: FROM_1:   13.5 17.5 24   32 41 57 76 101 125 151 192 232 269 300 341 400 458;
                  12   15.5 21   28 36 50 68 89  110 134 171 207 239 262 296 346 394,
    SingleC: FROM_1: 15.5 20 27 37 47 65 87 114 141 182 234 284 330 381 436 515 594;
                 14   18   25   33 43 59 79 104 129 167 214 261 303 349 400 472 545,
    F: FROM_25:                              126 156 191 246 300 349;
                                             110 137 167 216 264 308,
    A2: FROM_1:   11   14   18.5 25 32 43 57 75  92  110 139 167 192 219 248 291 334;
                  10   13   17.5 23 29 39 52 68  83  99  125 150 172 196 223 261 298,
    B2: FROM_1:   13   16.5 23   30 38 52 69 90  111 133 168 201 232 258 294 344 394;
                  11.5 15   20   27 34 46 62 80  99  118 149 179 206 225 255 297 339,
    C: FROM_1:    15   19.5 27   36 46 63 85 112 138 168 213 258 299 344 392 461 530;
                  13.5 17.5 24   32 41 57 76 96  119 144 184 223 259 299 341 403 464,
    E: FROM_1:    17   22   30   40 51 70 94 119 148 180 232 282 328 379 434 514 593;
                  14.5 18.5 25   34 43 60 80 101 126 153 196 238 276 319 364 430 497,
    D1: FROM_1_5:      22   29   37 46 60 78 99  119 140 173 204 231 261 292 336 379;
                       18   24   30 38 50 64 82  98  116 143 169 192 217 243 280 316,
    D2: FROM_1_5:      22   28   38 48 64 83 110 132 156 192 230 261 293 331 382 427;
                       19   24   33 41 54 70 92  110 130 162 193 220 246 278 320 359,
    ArmouredC: FROM_1_5: 21 28  38 49 67 89 118 145 175 222 269 310 356 405 476 547;
                      18   25   33 42 58 77 102 125 151 192 231 267 306 348 409 469,
    ArmouredE: FROM_1_5: 22 31  41 53 72 97 128 157 190 241 291 336 386 439 516 592;
                      19   26   35 45 62 83 110 135 163 207 251 290 332 378 445 510,
};

/// Copper, thermosetting, 90 °C: 4E1A, 4E2A, 4E4A; B.52.3, B.52.5, B.52.12.
#[rustfmt::skip]
pub(super) static COPPER_90: Table<17> = table! {
    //                  1    1.5  2.5  4  6  10 16  25  35  50  70  95  120 150 185 240 300
    A1: FROM_1:   14   19   26   35 45 61 81  106 131 158 200 241 278 318 362 424 486;
                  13   17   23   31 40 54 73  95  117 141 179 216 249 285 324 380 435,
    B1: FROM_1:   17   23   31   42 54 75 100 133 164 198 253 306 354 393 449 528 603;
                  15   20   28   37 48 66 88  117 144 175 222 269 312 342 384 450 514,
    SingleC: FROM_1: 19 25 34   46 59 81 109 143 176 228 293 355 413 476 545 644 743;
                 17.5 23   31   41 54 74 99  130 161 209 268 326 379 436 500 590 681,
    F: FROM_25:                               161 200 242 310 377 437;
                                              135 169 207 268 328 383,
    A2: FROM_1:   14.5 18.5 25   33 42 57 76  99  121 145 183 220 253 290 329 386 442;
                  13   16.5 22   30 38 51 68  89  109 130 164 197 227 259 295 346 396,
    B2: FROM_1:   17   22   30   40 51 69 91  119 146 175 221 265 305 334 384 459 532;
                  15   19.5 26   35 44 60 80  105 128 154 194 233 268 300 340 398 455,
    C: FROM_1:    19   24   33   45 58 80 107 138 171 209 269 328 382 441 506 599 693;
                  17   22   30   40 52 71 96  119 147 179 229 278 322 371 424 500 576,
    E: FROM_1:    21   26   36   49 63 86 115 149 185 225 289 352 410 473 542 641 741;
                  18   23   32   42 54 75 100 127 158 192 246 298 346 399 456 538 621,
    D1: FROM_1_5:      25   33   43 53 71 91  116 139 164 203 239 271 306 343 395 446;
                       21   28   36 44 58 75  96  115 135 167 197 223 251 281 324 365,
    D2: FROM_1_5:      27   35   46 58 77 100 129 155 183 225 270 306 343 387 448 502;
                       23   30   39 49 65 84  107 129 153 188 226 257 287 324 375 419,
    ArmouredC: FROM_1_5: 27 36  49 62 85 110 146 180 219 279 338 392 451 515 607 698;
                      23   31   42 53 73 94  124 154 187 238 289 335 386 441 520 599,
    ArmouredE: FROM_1_5: 29 39  52 66 90 115 152 188 228 291 354 410 472 539 636 732;
                      25   33   44 56 78 99  131 162 197 251 304 353 406 463 546 628,
};

/// Aluminium, thermoplastic, 70 °C: B.52.2, B.52.4, B.52.11; 4H4A. Single cores in column C by the IEC column.
#[rustfmt::skip]
pub(super) static ALUMINIUM_70: Table<12> = table! {
    //                 10 16 25 35  50  70  95  120 150 185 240 300
    A1: FROM_10: 36 48 63 77  93  118 142 164 189 215 252 289;
                 32 43 57 70  84  107 129 149 170 194 227 261,
    B1: FROM_10: 44 60 79 97  118 150 181 210 234 266 312 358;
                 39 53 70 86  104 133 161 186 204 230 269 306,
    SingleC: FROM_10: 49 66 83 103 125 160 195 226 261 298 352 406;
                44 59 73 90  110 140 170 197 227 259 305 351,
    F: FROM_25:        98 122 149 192 235 273;
                       84 105 128 166 203 237,
    A2: FROM_10: 33 44 58 71  86  108 130 150 172 195 229 263;
                 31 41 53 65  78  98  118 135 155 176 207 237,
    B2: FROM_10: 41 54 71 86  104 131 157 181 201 230 269 308;
                 36 48 62 77  92  116 139 160 176 199 232 265,
    C: FROM_10:  49 66 83 103 125 160 195 226 261 298 352 406;
                 44 59 73 90  110 140 170 197 227 259 305 351,
    E: FROM_10:  54 73 89 111 135 173 210 244 282 322 380 439;
                 46 61 78 96  117 150 183 212 245 280 330 381,
    D1: FROM_10: 47 61 77 93  109 135 159 180 204 228 262 296;
                 39 50 64 77  91  112 132 150 169 190 218 247,
    D2: FROM_16:    63 82 98  117 145 173 200 224 255 298 336;
                    53 69 83  99  122 148 169 189 214 250 282,
    ArmouredC: FROM_16: 68 89 109 131 165 199;
                   58 76 94  113 143 174 202 232 265 312 360,
    ArmouredE: FROM_16: 71 94 115 139 175 211;
                   61 80 99  119 151 186 216 250 287 342 399,
};

/// Aluminium, thermosetting, 90 °C: B.52.3, B.52.5, B.52.13; 4J4A. Single cores in column C by the IEC column.
#[rustfmt::skip]
pub(super) static ALUMINIUM_90: Table<12> = table! {
    //                 10 16 25  35  50  70  95  120 150 185 240 300
    A1: FROM_10: 48 64 84  103 125 158 191 220 253 288 338 387;
                 44 58 76  94  113 142 171 197 226 256 300 344,
    B1: FROM_10: 59 79 105 130 157 200 242 281 307 351 412 471;
                 52 71 93  116 140 179 217 251 267 300 351 402,
    SingleC: FROM_10: 62 84 101 126 154 198 241 280 324 371 439 508;
                57 76 90  112 136 174 211 245 283 323 382 440,
    F: FROM_25:        121 150 184 237 289 337;
                       103 129 159 206 253 296,
    A2: FROM_10: 45 60 78  96  115 145 175 201 230 262 307 352;
                 41 55 71  87  104 131 157 180 206 233 273 313,
    B2: FROM_10: 54 72 94  115 138 175 210 242 261 300 358 415;
                 48 64 84  103 124 156 188 216 240 272 318 364,
    C: FROM_10:  62 84 101 126 154 198 241 280 324 371 439 508;
                 57 76 90  112 136 174 211 245 283 323 382 440,
    E: FROM_10:  67 91 108 135 164 211 257 300 346 397 470 543;
                 58 77 97  120 146 187 227 263 304 347 409 471,
    D1: FROM_10: 55 71 90  108 128 158 186 211 238 267 307 346;
                 46 59 75  90  106 130 154 174 197 220 253 286,
    D2: FROM_16:    76 98  117 139 170 204 233 261 296 343 386;
                    64 82  98  117 144 172 197 220 250 290 326,
    ArmouredC: FROM_16: 82 108 132 159 201 242;
                   71 92  113 137 174 214 249 284 328 386 441,
    ArmouredE: FROM_16: 85 112 138 166 211 254;
                   74 98  120 145 185 224 264 305 350 418 488,
};

/// The columns of flat twin with protective conductor, one for each method it has of its own.
#[derive(Clone, Copy)]
pub(super) enum Flat {
    CeilingThin,
    CeilingThick,
    StudTouching,
    StudApart,
    Clipped,
    InsulatedWall,
}

macro_rules! flat {
    ($($column:ident: $first:ident: $($amps:literal)*,)*) => {{
        #[allow(clippy::indexing_slicing)] // at compile time
        const fn of() -> [Column<7>; 6] {
            let mut out = [[0; 7]; 6];
            $(out[Flat::$column as usize] = column($first, given!($($amps)*), 1);)*
            out
        }
        of()
    }};
}

/// Flat twin with protective conductor, copper, 70 °C: 4D5; the first seven of [`SIZES`].
#[rustfmt::skip]
pub(super) static FLAT: [Column<7>; 6] = flat! {
    //                               1    1.5  2.5  4    6    10 16
    CeilingThin:   FROM_1: 13   16   21   27   34   45 57,
    CeilingThick:  FROM_1: 10.5 13   17   22   27   36 46,
    StudTouching:  FROM_1: 13   16   21   27   35   47 63,
    StudApart:     FROM_1: 8    10   13.5 17.5 23.5 32 42.5,
    Clipped:        FROM_1: 16   20   27   37   47   64 85,
    InsulatedWall: FROM_1: 11.5 14.5 20   26   32   44 57,
};
