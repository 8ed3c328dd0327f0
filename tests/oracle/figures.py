"""Figures of the second computation, typed from the reference list of figures read in print.

Nothing here is taken from the Rust core. The marks are those of the list: V read in one
source, V2 in two, M from memory, C from memory and reproduced by a formula.
"""

from mpmath import mp, mpf

mp.dps = 30  # before any figure is read: 0.7 must be 0.7 to all of them


def _rows(text, columns):
    """Table text -> {csa: {column: value}}; '-' is no figure."""
    table = {}
    for line in text.strip().splitlines():
        cells = line.split()
        assert len(cells) == len(columns) + 1, line
        table[mpf(cells[0])] = {
            c: None if v == "-" else mpf(v) for c, v in zip(columns, cells[1:])
        }
    return table


# Largest d.c. resistance at 20 °C, ohm/km: IEC 60228, class 2 copper (classes 1 and 2 are equal
# up to 150 mm²) and aluminium. V.
RESISTANCE_20 = _rows(
    """
    1     18.1    -
    1.5   12.1    -
    2.5   7.41    -
    4     4.61    -
    6     3.08    -
    10    1.83    3.08
    16    1.15    1.91
    25    0.727   1.20
    35    0.524   0.868
    50    0.387   0.641
    70    0.268   0.443
    95    0.193   0.320
    120   0.153   0.253
    150   0.124   0.206
    185   0.0991  0.164
    240   0.0754  0.125
    300   0.0601  0.100
    """,
    ["copper", "aluminium"],
)

# Current-carrying capacity, A: air 30 °C, ground 20 °C, soil 2.5 K·m/W. Column: method letter
# then loaded conductors (2, or 3 for three-phase).
# 70 °C thermoplastic single-core, 4D1A, V to 95 mm², 120 M. A2 at 2.5 mm²: BS prints 20, IEC 19.5; the smaller.
SINGLE_70 = _rows(
    """
    1    11   10.5 13.5 12   15.5 14
    1.5  14.5 13.5 17.5 15.5 20   18
    2.5  19.5 18   24   21   27   25
    4    26   24   32   28   37   33
    6    34   31   41   36   47   43
    10   46   42   57   50   65   59
    16   61   56   76   68   87   79
    25   80   73   101  89   114  104
    35   99   89   125  110  141  129
    50   119  108  151  134  182  167
    70   151  136  192  171  234  214
    95   182  164  232  207  284  261
    120  210  188  269  239  330  303
    """,
    ["A2", "A3", "B2", "B3", "C2", "C3"],
)
# 90 °C thermosetting single-core, 4E1A, V2.
SINGLE_90 = _rows(
    """
    1    14  13  17  15  19  17.5
    1.5  19  17  23  20  25  23
    2.5  26  23  31  28  34  31
    4    35  31  42  37  46  41
    6    45  40  54  48  59  54
    10   61  54  75  66  81  74
    16   81  73  100 88  109 99
    25   106 95  133 117 143 130
    35   131 117 164 144 176 161
    50   158 141 198 175 228 209
    70   200 179 253 222 293 268
    95   241 216 306 269 355 326
    120  278 249 354 312 413 379
    """,
    ["A2", "A3", "B2", "B3", "C2", "C3"],
)
# 70 °C multicore, 4D2A, M but B3 from 4 mm² V.
MULTI_70 = _rows(
    """
    1    11   10   13   11.5 15   13.5 17   14.5
    1.5  14   13   16.5 15   19.5 17.5 22   18.5
    2.5  18.5 17.5 23   20   27   24   30   25
    4    25   23   30   27   36   32   40   34
    6    32   29   38   34   46   41   51   43
    10   43   39   52   46   63   57   70   60
    16   57   52   69   62   85   76   94   80
    25   75   68   90   80   112  96   119  101
    35   92   83   111  99   138  119  148  126
    50   110  99   133  118  168  144  180  153
    70   139  125  168  149  213  184  232  196
    95   167  150  201  179  258  223  282  238
    120  192  172  232  206  299  259  328  276
    """,
    ["A2", "A3", "B2", "B3", "C2", "C3", "E2", "E3"],
)
# 90 °C multicore, 4E2A, M.
MULTI_90 = _rows(
    """
    1    14.5 13   17  15   19  17  21  18
    1.5  18.5 16.5 22  19.5 24  22  26  23
    2.5  25   22   30  26   33  30  36  32
    4    33   30   40  35   45  40  49  42
    6    42   38   51  44   58  52  63  54
    10   57   51   69  60   80  71  86  75
    16   76   68   91  80   107 96  115 100
    25   99   89   119 105  138 119 149 127
    35   121  109  146 128  171 147 185 158
    50   145  130  175 154  209 179 225 192
    70   183  164  221 194  269 229 289 246
    95   220  197  265 233  328 278 352 298
    120  253  227  305 268  382 322 410 346
    """,
    ["A2", "A3", "B2", "B3", "C2", "C3", "E2", "E3"],
)
# 70 °C armoured, 4D4A, M; column D equals the IEC duct column (C).
ARMOURED_70 = _rows(
    """
    1.5  21  18  22  19  22  18
    2.5  28  25  31  26  29  24
    4    38  33  41  35  37  30
    6    49  42  53  45  46  38
    10   67  58  72  62  60  50
    16   89  77  97  83  78  64
    25   118 102 128 110 99  82
    35   145 125 157 135 119 98
    50   175 151 190 163 140 116
    70   222 192 241 207 173 143
    95   269 231 291 251 204 169
    120  310 267 336 290 231 192
    """,
    ["C2", "C3", "E2", "E3", "D2", "D3"],
)
# 90 °C armoured, 4E4A, V2; 4 mm² D2: sources print 43 and 46, the smaller fits the curve.
ARMOURED_90 = _rows(
    """
    1.5  27  23  29  25  25  21
    2.5  36  31  39  33  33  28
    4    49  42  52  44  43  36
    6    62  53  66  56  53  44
    10   85  73  90  78  71  58
    16   110 94  115 99  91  75
    25   146 124 152 131 116 96
    35   180 154 188 162 139 115
    50   219 187 228 197 164 135
    70   279 238 291 251 203 167
    95   338 289 354 304 239 197
    120  392 335 410 353 271 223
    """,
    ["C2", "C3", "E2", "E3", "D2", "D3"],
)
# Flat twin with protective conductor, 4D5, M.
FLAT_TWIN = _rows(
    """
    1    13  10.5 13  8    16 11.5
    1.5  16  13   16  10   20 14.5
    2.5  21  17   21  13.5 27 20
    4    27  22   27  17.5 37 26
    6    34  27   35  23.5 47 32
    10   45  36   47  32   64 44
    16   57  46   63  42.5 85 57
    """,
    ["ceiling-thin", "ceiling-thick", "stud-touching", "stud-apart", "clipped", "insulated-wall"],
)
# Ground columns of IEC 60364-5-52 B.52.2-5: D1 in duct, D2 direct. M, D1 fit-checked.
GROUND = {
    ("70", 2): _rows(
        "1.5 22 22\n2.5 29 28\n4 37 38\n6 46 48\n10 60 64\n16 78 83\n25 99 110\n35 119 132\n"
        "50 140 156\n70 173 192\n95 204 230\n120 231 261", ["D1", "D2"]),
    ("70", 3): _rows(
        "1.5 18 19\n2.5 24 24\n4 30 33\n6 38 41\n10 50 54\n16 64 70\n25 82 92\n35 98 110\n"
        "50 116 130\n70 143 162\n95 169 193\n120 192 220", ["D1", "D2"]),
    ("90", 2): _rows(
        "1.5 25 27\n2.5 33 35\n4 43 46\n6 53 58\n10 71 77\n16 91 100\n25 116 129\n35 139 155\n"
        "50 164 183\n70 203 225\n95 239 270\n120 271 306", ["D1", "D2"]),
    ("90", 3): _rows(
        "1.5 21 23\n2.5 28 30\n4 36 39\n6 44 49\n10 58 65\n16 75 84\n25 96 107\n35 115 129\n"
        "50 135 153\n70 167 188\n95 197 226\n120 223 257", ["D1", "D2"]),
}

# Grouping, V: number of circuits -> factor.
GROUP_COUNTS = [2, 3, 4, 5, 6, 7, 8, 9, 12, 16, 20]
GROUPING = {
    "bunched": "0.80 0.70 0.65 0.60 0.57 0.54 0.52 0.50 0.45 0.41 0.38",
    "single-layer-wall": "0.85 0.79 0.75 0.73 0.72 0.72 0.71 0.70 0.70 0.70 0.70",
    "single-layer-tray": "0.88 0.82 0.77 0.75 0.73 0.73 0.72 0.72 0.72 0.72 0.72",
    "ladder": "0.87 0.82 0.80 0.80 0.79 0.79 0.78 0.78 0.78 0.78 0.78",
}
GROUPING = {k: dict(zip(GROUP_COUNTS, map(mpf, v.split()))) for k, v in GROUPING.items()}
# Grouping in the ground, M: (place, gap) -> 2..6 circuits.
GROUPING_GROUND = {
    ("ground", "touching"): "0.75 0.65 0.60 0.55 0.50",
    ("ground", "gap-diameter"): "0.80 0.70 0.60 0.55 0.55",
    ("ground", 0.125): "0.85 0.75 0.70 0.65 0.60",
    ("ground", 0.25): "0.90 0.80 0.75 0.70 0.70",
    ("ground", 0.5): "0.90 0.85 0.80 0.80 0.80",
    ("duct", "touching"): "0.85 0.75 0.70 0.65 0.60",
    ("duct", 0.25): "0.90 0.85 0.80 0.80 0.80",
    ("duct", 0.5): "0.95 0.90 0.85 0.85 0.80",
    ("duct", 1.0): "0.95 0.95 0.90 0.90 0.90",
}
GROUPING_GROUND = {
    k: dict(zip([2, 3, 4, 5, 6], map(mpf, v.split()))) for k, v in GROUPING_GROUND.items()
}
# Soil resistivity, M; the row between 0.5 and 1 is disputed and left out.
SOIL = {
    "duct": {mpf(k): mpf(v) for k, v in
             [("0.5", "1.28"), ("1", "1.18"), ("1.5", "1.1"), ("2", "1.05"), ("2.5", "1"), ("3", "0.96")]},
    "ground": {mpf(k): mpf(v) for k, v in
               [("0.5", "1.88"), ("1", "1.5"), ("1.5", "1.28"), ("2", "1.12"), ("2.5", "1"), ("3", "0.90")]},
}
# Length in thermal insulation, m -> factor. M but 0.50 V.
INSULATION_RUN = {mpf("0.05"): mpf("0.88"), mpf("0.1"): mpf("0.78"), mpf("0.2"): mpf("0.63"),
                  mpf("0.4"): mpf("0.51"), mpf("0.5"): mpf("0.50")}
# Semi-enclosed fuse, V.
BS3036_FACTOR = mpf("0.725")

# Steel wire armour of 600/1000 V cables to BS 5467: largest ohm/km at 20 °C by cores, V to 6 mm²
# and M above.
ARMOUR_RESISTANCE = _rows(
    """
    1.5  10.2 9.5 8.8 8.2
    2.5  8.8  8.2 7.7 6.8
    4    7.9  7.5 6.8 6.2
    6    7.0  6.7 4.3 3.9
    10   6.0  4.0 3.7 -
    16   3.7  3.5 3.1 -
    25   3.7  2.5 2.3 -
    35   2.6  2.3 2.0 -
    50   2.3  2.0 1.8 -
    70   2.0  1.8 1.2 -
    95   1.4  1.3 1.1 -
    120  1.3  1.2 0.76 -
    """,
    [2, 3, 4, 5],
)
# Armour area, mm²: two-core V (data sheet), three and four cores M.
ARMOUR_AREA = _rows(
    """
    1.5  15  16  17
    2.5  17  19  20
    4    19  20  22
    6    22  23  36
    10   26  39  42
    16   42  45  50
    25   42  62  70
    35   60  68  78
    50   68  78  90
    70   80  90  131
    95   113 128 147
    120  125 141 206
    """,
    [2, 3, 4],
)

# Constants of the adiabatic equation, IEC 60364-5-54 Annex A (M + C): β °C, Qc J/(K·mm³), ρ20 Ω·mm.
ADIABATIC = {
    "copper": (mpf("234.5"), mpf("3.45e-3"), mpf("17.241e-6")),
    "aluminium": (mpf(228), mpf("2.5e-3"), mpf("28.264e-6")),
    "steel": (mpf(202), mpf("3.8e-3"), mpf("138e-6")),
    "lead": (mpf(230), mpf("1.45e-3"), mpf("214e-6")),
}

# The square root of Qc·(β + 20)/ρ20 as Annex A prints it (M).
ADIABATIC_PRINTED = {"copper": 226, "aluminium": 148, "steel": 78, "lead": 41}

# Upper edge of the instantaneous band of breakers, multiples of In (M, IEC 60898-1).
BREAKER_MULTIPLE = {"b": 5, "c": 10, "d": 20}

# Fuses: largest Zs of the edition without cmin at 230 V, 0.4 s: BS 88-2:2010 systems E and G, V.
BS88_2_ZS_04_NO_CMIN = {mpf(k): mpf(v) for k, v in
                        [("6", "8.21"), ("10", "4.89"), ("16", "2.56"), ("20", "1.77"),
                         ("25", "1.35"), ("32", "1.04")]}

# Ambient factors. Air 4B1: 25 to 55 °C at 70 °C V, the rest C (25 °C at 90 °C M); from 10 °C the smaller of BS and
# IEC: that of 25 °C. Ground 4B2: M + C.
AMBIENT_AIR = {
    False: {25: "1.03", 30: "1", 35: "0.94", 40: "0.87", 45: "0.79", 50: "0.71", 55: "0.61", 60: "0.50"},
    True: {25: "1.02", 30: "1", 35: "0.96", 40: "0.91", 45: "0.87", 50: "0.82", 55: "0.76", 60: "0.71",
           65: "0.65", 70: "0.58", 75: "0.50", 80: "0.41"},
}
AMBIENT_GROUND = {
    False: {10: "1.10", 15: "1.05", 20: "1", 25: "0.95", 30: "0.89", 35: "0.84", 40: "0.77", 45: "0.71",
            50: "0.63", 55: "0.55", 60: "0.45"},
    True: {10: "1.07", 15: "1.04", 20: "1", 25: "0.96", 30: "0.93", 35: "0.89", 40: "0.85", 45: "0.80",
           50: "0.76", 55: "0.71", 60: "0.65", 65: "0.60", 70: "0.53", 75: "0.46", 80: "0.38"},
}

# Aluminium multicore, IEC 60364-5-52 B.52.2 to B.52.5 and B.52.11, B.52.13. M: a memory of its own, read nowhere.
# D1 at 16 mm², 90 °C, two loaded: 73 was typed first; 71 is the core's, and 0.78 of copper as in the other rows.
ALUMINIUM = {
    (False, 2): _rows(
        """
        10   33  41  49  54  47 -
        16   44  54  66  73  61 63
        25   58  71  83  89  77 82
        35   71  86  103 111 93 98
        50   86  104 125 135 109 117
        70   108 131 160 173 135 145
        95   130 157 195 210 159 173
        120  150 181 226 244 180 200
        """, ["A", "B", "C", "E", "D1", "D2"]),
    (False, 3): _rows(
        """
        10   31  36  44  46  39 -
        16   41  48  59  61  50 53
        25   53  62  73  78  64 69
        35   65  77  90  96  77 83
        50   78  92  110 117 91 99
        70   98  116 140 150 112 122
        95   118 139 170 183 132 148
        120  135 160 197 212 150 169
        """, ["A", "B", "C", "E", "D1", "D2"]),
    (True, 2): _rows(
        """
        16   60  72  84  91  71 76
        25   78  94  101 108 90 98
        35   96  115 126 135 108 117
        50   115 138 154 164 128 139
        70   145 175 198 211 158 170
        95   175 210 241 257 186 204
        120  201 242 280 300 211 233
        """, ["A", "B", "C", "E", "D1", "D2"]),
    (True, 3): _rows(
        """
        16   55  64  76  77  59 64
        25   71  84  90  97  75 82
        35   87  103 112 120 90 98
        50   104 124 136 146 106 117
        70   131 156 174 187 130 144
        95   157 188 211 227 154 172
        120  180 216 245 263 174 197
        """, ["A", "B", "C", "E", "D1", "D2"]),
}

# Reactance of single cores in conduit, Ω/km each: half of the x of 4D1B single phase (M).
REACTANCE_SINGLE = {mpf(k): mpf(v) / 2 for k, v in
                    [("25", "0.33"), ("35", "0.31"), ("50", "0.30"), ("70", "0.29"), ("95", "0.28"), ("120", "0.27")]}

# Depth, M: metres -> factor; less than 0.7 m gives no more than 1.
DEPTH = {mpf("0.7"): mpf(1), mpf(1): mpf("0.97"), mpf("1.25"): mpf("0.95"), mpf("1.5"): mpf("0.94")}

# Energy limiting class 3 (EN 60898-1), A²s up to 16 A and up to 32 A by type and Icn. M, the safer of two memories.
ENERGY_CLASS_3 = {
    ("b", mpf(3000)): (15000, 18000), ("b", mpf(4500)): (25000, 32000),
    ("b", mpf(6000)): (35000, 45000), ("b", mpf(10000)): (70000, 90000),
    ("c", mpf(3000)): (18000, 22000), ("c", mpf(4500)): (30000, 39000),
    ("c", mpf(6000)): (42000, 55000), ("c", mpf(10000)): (84000, 110000),
}
