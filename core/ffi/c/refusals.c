/* What the interface must not believe: pointers, codes, figures, memory that is not what it should be.
   ENTRIES, given by who compiles, is how many there are in the header. */
#include "../faultpath.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static int failed;

#define EXPECT(what, wanted)                                                             \
    do {                                                                                 \
        long got_ = (long)(what);                                                        \
        if (got_ != (long)(wanted)) {                                                    \
            printf("%s:%d: %s is %ld, not %s\n", __FILE__, __LINE__, #what, got_, #wanted); \
            failed++;                                                                    \
        }                                                                                \
    } while (0)

/* Of the pointers of a call one that is replaced. */
static int replaced = -1;
static const void *by;

static void *P(int n, const void *pointer)
{
    return (void *)(n == replaced ? by : pointer);
}

/* Every pointer of an entry in turn, null and misaligned: r must be there, o may be null, b and e are of bytes, which
   lie anywhere, and e may be null. */
#define EVERY(kinds, call)                                                               \
    do {                                                                                 \
        const char *kinds_ = (kinds);                                                    \
        for (replaced = 0; kinds_[replaced]; replaced++) {                               \
            char kind_ = kinds_[replaced];                                               \
            by = NULL;                                                                   \
            EXPECT(call, kind_ == 'r' || kind_ == 'b' ? FP_STATUS_NULL : FP_STATUS_OK);  \
            by = odd;                                                                    \
            EXPECT(call, kind_ == 'r' || kind_ == 'o' ? FP_STATUS_MISALIGNED : FP_STATUS_OK); \
        }                                                                                \
        replaced = -1;                                                                   \
        entries++;                                                                       \
    } while (0)

static fp_installation installation, unmade;
static fp_design design;

static fp_supply supply(void)
{
    fp_supply s = {.u0 = 230.0f, .phases = FP_PHASES_SINGLE, .earthing = FP_EARTHING_TN_CS, .ze = {0.3f, 1},
                   .ze_origin = FP_ORIGIN_MEASURED, .fault_level = FP_FAULT_LEVEL_FROM_ZE};
    return s;
}

static fp_section section(void)
{
    fp_section s = {.length = 20.0f, .part = FP_PART_RUN, .material = FP_MATERIAL_COPPER, .csa = 2.5f,
                    .insulation = FP_INSULATION_THERMOPLASTIC_SEVENTY, .construction = FP_CONSTRUCTION_FLAT_TWIN,
                    .cores = 2, .protective = FP_PROTECTIVE_CORE, .protective_conductor = {1.5f, FP_MATERIAL_COPPER},
                    .laying = {.method = FP_METHOD_CLIPPED, .ambient = 30.0f, .grouped = 1,
                               .arrangement = FP_ARRANGEMENT_BUNCHED}};
    return s;
}

static fp_circuit circuit(const fp_section *sections, uint8_t count)
{
    fp_circuit c = {.sections = sections, .section_count = count, .phase = FP_PHASE_L1, .shape = FP_SHAPE_RADIAL,
                    .purpose = FP_USE_FIXED, .device = {.family = FP_FAMILY_BREAKER_B, .rating = 16.0f,
                    .breaking = {6000.0f, 1}, .class_3 = 1}, .demand = FP_DEMAND_CURRENT, .load = 10.0f, .power_factor = 1.0f,
                    .load_class = FP_LOAD_CLASS_OTHER, .points = 1};
    return c;
}

static void count(void *context, const fp_finding *finding)
{
    (void)finding;
    ++*(unsigned *)context;
}

int main(void)
{
    fp_error e;
    fp_profile p;
    fp_outcome outcome = FP_OUTCOME_PASS;
    fp_figures figures;
    unsigned findings = 0;
    uint16_t id;
    float v;

    /* Null and misaligned. */
    EXPECT(fp_profile_uk(NULL), FP_STATUS_NULL);
    EXPECT(fp_profile_uk(&p), FP_STATUS_OK);
    uint32_t room[64] = {0};
    unsigned char *odd = (unsigned char *)room + 1;
    fp_device b16 = {.family = FP_FAMILY_BREAKER_B, .rating = 16.0f};
    EXPECT(fp_max_zs(NULL, 0.4f, 230.0f, 0.95f, &v, &e), FP_STATUS_NULL);
    EXPECT(fp_max_zs(&b16, 0.4f, 230.0f, 0.95f, NULL, &e), FP_STATUS_NULL);
    void *misaligned = odd;
    EXPECT(fp_max_zs(misaligned, 0.4f, 230.0f, 0.95f, &v, &e), FP_STATUS_MISALIGNED);
    EXPECT(fp_max_zs(&b16, 0.4f, 230.0f, 0.95f, misaligned, &e), FP_STATUS_MISALIGNED);
    EXPECT(fp_max_zs(&b16, 0.4f, 230.0f, 0.95f, &v, NULL), FP_STATUS_OK);
    EXPECT(fp_installation_make(misaligned, &p, NULL, NULL), FP_STATUS_MISALIGNED);
    EXPECT(fp_installation_make(NULL, &p, NULL, NULL), FP_STATUS_NULL);
    EXPECT(fp_installation_make(&installation, &p, NULL, NULL), FP_STATUS_NULL);

    /* Figures and codes. A result is never a pass then. */
    const float bad[] = {NAN, INFINITY, -INFINITY, -1.0f, 0.0f, 1e30f};
    for (size_t n = 0; n < sizeof bad / sizeof bad[0]; n++) {
        v = 99.0f;
        EXPECT(fp_max_zs(&b16, bad[n], 230.0f, 0.95f, &v, &e), FP_STATUS_REFUSED);
        EXPECT(e.field, FP_FIELD_TIME);
        EXPECT(v == 0.0f, 1);
        fp_device d = {.family = FP_FAMILY_GG, .rating = bad[n]};
        EXPECT(fp_max_zs(&d, 0.4f, 230.0f, 0.95f, &v, &e), FP_STATUS_REFUSED);
        EXPECT(e.field, FP_FIELD_RATING);
    }
    for (unsigned code = 0; code < 256; code++) {
        fp_device d = {.family = (uint8_t)code, .rating = 100.0f};
        fp_status status = fp_max_zs(&d, 5.0f, 230.0f, 0.95f, &v, &e);
        if (code == 0 || code > FP_FAMILY_GG) {
            EXPECT(status, FP_STATUS_REFUSED);
            EXPECT(e.reason, FP_REASON_NO_SUCH_CHOICE);
        }
        d.family = FP_FAMILY_BREAKER_B;
        d.class_3 = (uint8_t)code;
        EXPECT(fp_max_zs(&d, 5.0f, 230.0f, 0.95f, &v, &e), code > 1 ? FP_STATUS_REFUSED : FP_STATUS_OK);
        fp_shown shown = {0.5f, (uint8_t)code};
        fp_meter meter = {.share = 0.03f, .resolution = 0.01f};
        outcome = FP_OUTCOME_PASS;
        EXPECT(fp_judge(FP_SENSE_AT_MOST, &shown, &meter, 1.0f, &outcome, &e),
               code > 1 ? FP_STATUS_REFUSED : FP_STATUS_OK);
        EXPECT(outcome == FP_OUTCOME_PASS, code == 0);
    }
    fp_device none = {.family = FP_FAMILY_BS1362, .rating = 5.0f};
    EXPECT(fp_max_zs(&none, 0.4f, 230.0f, 0.95f, &v, &e), FP_STATUS_NOT_KNOWN);
    EXPECT(fp_disconnecting_current(&b16, 0.01f, &v, &e), FP_STATUS_NOT_KNOWN);
    EXPECT(v == INFINITY, 1);
    EXPECT(fp_required_time(FP_EARTHING_NOT_KNOWN, 230.0f, FP_USE_FIXED, 16.0f, &v, &e), FP_STATUS_REFUSED);
    EXPECT(fp_required_time(FP_EARTHING_TT, 24.0f, FP_USE_FIXED, 16.0f, &v, &e), FP_STATUS_NOT_KNOWN);

    /* A circuit by itself, and everything left out of it that may not be. */
    fp_supply s = supply();
    fp_section sections[7];
    for (int n = 0; n < 7; n++) {
        sections[n] = section();
    }
    fp_circuit c = circuit(sections, 1);
    EXPECT(fp_circuit_assess(&p, &s, &c, count, &findings, &figures, &outcome, &e), FP_STATUS_OK);
    EXPECT(outcome, FP_OUTCOME_PASS);
    EXPECT(findings, 8);
    EXPECT(figures.zs.given, 1);
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, NULL, &outcome, NULL), FP_STATUS_OK);
    c.section_count = 7;
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    EXPECT(e.reason, FP_REASON_TOO_MANY);
    EXPECT(outcome, FP_OUTCOME_CANNOT_SAY);
    c.section_count = 0;
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    c.section_count = 1;
    c.sections = NULL;
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_NULL);
    c.sections = misaligned;
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_MISALIGNED);
    c.sections = sections;
    c.section_count = 3;
    sections[2].length = NAN;
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    EXPECT(e.section, 2);
    EXPECT(e.field, FP_FIELD_LENGTH);
    fp_circuit blank;
    memset(&blank, 0, sizeof blank);
    EXPECT(fp_circuit_assess(&p, &s, &blank, NULL, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    fp_supply nothing;
    memset(&nothing, 0, sizeof nothing);
    c.section_count = 1;
    EXPECT(fp_circuit_assess(&p, &nothing, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    fp_profile wrong = p;
    wrong.cmin = 0.0f;
    EXPECT(fp_circuit_assess(&wrong, &s, &c, NULL, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);

    /* What is not known is no zero and no pass: no Ze. */
    s.ze.given = 0;
    EXPECT(fp_circuit_assess(&p, &s, &c, NULL, NULL, &figures, &outcome, &e), FP_STATUS_OK);
    EXPECT(outcome, FP_OUTCOME_CANNOT_SAY);
    EXPECT(figures.zs.given, 0);
    s = supply();

    /* Memory that nobody made. */
    fp_board house = {.feed = FP_FEED_ORIGIN};
    EXPECT(fp_installation_add_board(&unmade, &house, &id, &e), FP_STATUS_NOT_MADE);
    EXPECT(fp_installation_add_circuit(&unmade, &c, &id, &e), FP_STATUS_NOT_MADE);
    outcome = FP_OUTCOME_PASS;
    EXPECT(fp_installation_assess(&unmade, NULL, NULL, &outcome, &e), FP_STATUS_NOT_MADE);
    EXPECT(outcome, FP_OUTCOME_CANNOT_SAY);
    fp_shown shown = {0.5f, 0};
    fp_meter meter = {.share = 0.03f, .resolution = 0.01f};
    fp_judged judged;
    EXPECT(fp_read_zs(&design, &shown, &meter, &judged, &e), FP_STATUS_NOT_MADE);
    EXPECT(judged.outcome, FP_OUTCOME_CANNOT_SAY);

    /* An installation: empty, full, contradicting itself. A refused remake leaves nothing to use. */
    EXPECT(fp_installation_make(&installation, &p, &s, &e), FP_STATUS_OK);
    EXPECT(fp_installation_assess(&installation, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    EXPECT(outcome, FP_OUTCOME_CANNOT_SAY);
    for (unsigned n = 0; n < FP_BOARDS; n++) {
        EXPECT(fp_installation_add_board(&installation, &house, &id, &e), FP_STATUS_OK);
        EXPECT(id, n);
    }
    EXPECT(fp_installation_add_board(&installation, &house, &id, &e), FP_STATUS_FULL);
    for (unsigned n = 0; n < FP_CIRCUITS; n++) {
        EXPECT(fp_installation_add_circuit(&installation, &c, &id, &e), FP_STATUS_OK);
    }
    EXPECT(fp_installation_add_circuit(&installation, &c, &id, &e), FP_STATUS_FULL);
    findings = 0;
    EXPECT(fp_installation_assess(&installation, count, &findings, &outcome, &e), FP_STATUS_OK);
    EXPECT(findings > 8 * FP_CIRCUITS, 1);
    EXPECT(fp_design_in_installation(&design, &installation, FP_EARTHING_TN_CS, FP_CIRCUITS, 10.0f, &e),
           FP_STATUS_NO_SUCH_THING);
    EXPECT(fp_design_in_installation(&design, &installation, FP_EARTHING_NOT_KNOWN, 0, 10.0f, &e), FP_STATUS_REFUSED);
    EXPECT(fp_design_in_installation(&design, &installation, FP_EARTHING_TN_CS, 0, 10.0f, &e), FP_STATUS_OK);
    EXPECT(fp_read_zs(&design, &shown, &meter, &judged, &e), FP_STATUS_OK);
    EXPECT(judged.outcome, FP_OUTCOME_PASS);
    EXPECT(fp_design_of_circuit(&design, &p, &s, 0, &c, 10.0f, &e), FP_STATUS_REFUSED);
    EXPECT(fp_read_r2(&design, &shown, &meter, &judged, &e), FP_STATUS_NOT_MADE);
    EXPECT(fp_design_of_circuit(&design, &p, &s, FP_EARTHING_TN_S, &c, 10.0f, &e), FP_STATUS_OK);
    EXPECT(fp_read_r1r2(&design, &shown, &meter, &judged, &e), FP_STATUS_OK);
    float hot, cold;
    EXPECT(fp_design_max_zs(&design, &hot, &cold), FP_STATUS_OK);
    EXPECT(cold < hot && cold > 0.5f * hot, 1);
    EXPECT(fp_design_max_zs(&design, NULL, NULL), FP_STATUS_OK);

    EXPECT(fp_installation_make(&installation, &p, &s, &e), FP_STATUS_OK);
    fp_board loop = {.feed = FP_FEED_CIRCUIT, .circuit = 0};
    EXPECT(fp_installation_add_board(&installation, &loop, &id, &e), FP_STATUS_OK);
    c.purpose = FP_USE_DISTRIBUTION;
    EXPECT(fp_installation_add_circuit(&installation, &c, &id, &e), FP_STATUS_OK);
    EXPECT(fp_installation_assess(&installation, NULL, NULL, &outcome, &e), FP_STATUS_REFUSED);
    EXPECT(e.reason, FP_REASON_CYCLE);
    EXPECT(outcome, FP_OUTCOME_CANNOT_SAY);
    EXPECT(fp_design_in_installation(&design, &installation, FP_EARTHING_TN_CS, 0, 10.0f, &e), FP_STATUS_NOT_KNOWN);
    EXPECT(fp_installation_make(&installation, &p, &nothing, &e), FP_STATUS_REFUSED);
    EXPECT(fp_installation_assess(&installation, NULL, NULL, &outcome, &e), FP_STATUS_NOT_MADE);

    /* Readings. */
    fp_rcd rcd = {0.03f, FP_RCD_TYPE_AC, FP_RCD_DELAY_NONE};
    fp_shown fast = {0.02f, 0};
    EXPECT(fp_read_rcd_time(&rcd, FP_WAVE_SINE, FP_MULTIPLE_FIVE, &fast, &meter, &judged, &e), FP_STATUS_OK);
    EXPECT(judged.outcome, FP_OUTCOME_PASS);
    EXPECT(fp_read_rcd_time(&rcd, FP_WAVE_HALF, FP_MULTIPLE_FIVE, &fast, &meter, &judged, &e), FP_STATUS_OK);
    EXPECT(judged.outcome, FP_OUTCOME_CANNOT_SAY);
    EXPECT(fp_read_rcd_time(&rcd, 0, FP_MULTIPLE_FIVE, &fast, &meter, &judged, &e), FP_STATUS_REFUSED);
    EXPECT(fp_read_rcd_ramp(&rcd, FP_WAVE_SINE, &fast, &meter, &judged, &e), FP_STATUS_OK);
    EXPECT(fp_read_insulation(FP_CIRCUIT_CLASS_NOMINAL, 230.0f, 500.0f, 0, 0, 0, &shown, &meter, &judged, &e),
           FP_STATUS_REFUSED);
    EXPECT(fp_read_electrode(NULL, &meter, (fp_optional){0}, &judged, &e), FP_STATUS_NULL);
    fp_shown loop_ohms = {90.0f, 0};
    EXPECT(fp_read_electrode_loop(&loop_ohms, &meter, (fp_optional){0}, &judged, &e), FP_STATUS_OK);
    EXPECT(judged.outcome, FP_OUTCOME_CANNOT_SAY);
    EXPECT(fp_read_electrode_loop(&loop_ohms, &meter, (fp_optional){1666.0f, 1}, &judged, &e), FP_STATUS_OK);
    EXPECT(judged.outcome, FP_OUTCOME_PASS);

    /* Every pointer of every entry. */
    int entries = 0;
    const fp_shown thrice[3] = {{20.0f, 0}, {20.1f, 0}, {19.9f, 0}};
    sections[0] = section();
    fp_circuit whole = circuit(sections, 1);
    EVERY("r", fp_profile_iec(P(0, &p)));
    EVERY("r", fp_profile_uk(P(0, &p)));
    EVERY("rre", fp_max_zs(P(0, &b16), 0.4f, 230.0f, 0.95f, P(1, &v), P(2, &e)));
    EVERY("rre", fp_disconnecting_current(P(0, &b16), 0.4f, P(1, &v), P(2, &e)));
    EVERY("re", fp_required_time(FP_EARTHING_TN_S, 230.0f, FP_USE_FIXED, 16.0f, P(0, &v), P(1, &e)));
    EVERY("rrrobe", fp_circuit_assess(P(0, &p), P(1, &s), P(2, &whole), NULL, NULL, P(3, &figures), P(4, &outcome), P(5, &e)));
    EVERY("rrbe", fp_judge(FP_SENSE_AT_MOST, P(0, &shown), P(1, &meter), 1.0f, P(2, &outcome), P(3, &e)));
    EVERY("rrre", fp_read_insulation(FP_CIRCUIT_CLASS_NOMINAL, 230.0f, 500.0f, 0, 0, 1, P(0, &shown), P(1, &meter), P(2, &judged), P(3, &e)));
    EVERY("rrrre", fp_read_rcd_time(P(0, &rcd), FP_WAVE_SINE, FP_MULTIPLE_FIVE, P(1, &fast), P(2, &meter), P(3, &judged), P(4, &e)));
    EVERY("rrrre", fp_read_rcd_ramp(P(0, &rcd), FP_WAVE_SINE, P(1, &fast), P(2, &meter), P(3, &judged), P(4, &e)));
    EVERY("rrre", fp_read_electrode(P(0, thrice), P(1, &meter), (fp_optional){0}, P(2, &judged), P(3, &e)));
    EVERY("rrre", fp_read_electrode_loop(P(0, &loop_ohms), P(1, &meter), (fp_optional){0}, P(2, &judged), P(3, &e)));
    EVERY("rrre", fp_installation_make(P(0, &installation), P(1, &p), P(2, &s), P(3, &e)));
    EXPECT(fp_installation_make(&installation, &p, &s, &e), FP_STATUS_OK);
    EVERY("rrre", fp_installation_add_board(P(0, &installation), P(1, &house), P(2, &id), P(3, &e)));
    EVERY("rrre", fp_installation_add_circuit(P(0, &installation), P(1, &whole), P(2, &id), P(3, &e)));
    EVERY("rbe", fp_installation_assess(P(0, &installation), NULL, NULL, P(1, &outcome), P(2, &e)));
    EVERY("rre", fp_design_in_installation(P(0, &design), P(1, &installation), FP_EARTHING_TN_CS, 0, 10.0f, P(2, &e)));
    EVERY("rrrre", fp_design_of_circuit(P(0, &design), P(1, &p), P(2, &s), FP_EARTHING_TN_S, P(3, &whole), 10.0f, P(4, &e)));
    EXPECT(fp_design_of_circuit(&design, &p, &s, FP_EARTHING_TN_S, &whole, 10.0f, &e), FP_STATUS_OK);
    EVERY("rrrre", fp_read_zs(P(0, &design), P(1, &shown), P(2, &meter), P(3, &judged), P(4, &e)));
    EVERY("rrrre", fp_read_r1r2(P(0, &design), P(1, &shown), P(2, &meter), P(3, &judged), P(4, &e)));
    EVERY("rrrre", fp_read_r2(P(0, &design), P(1, &shown), P(2, &meter), P(3, &judged), P(4, &e)));
    EVERY("roo", fp_design_max_zs(P(0, &design), P(1, &hot), P(2, &cold)));
    EXPECT(entries, ENTRIES);

    if (failed) {
        printf("%d failed\n", failed);
        return 1;
    }
    printf("every refusal as it should be\n");
    return 0;
}
