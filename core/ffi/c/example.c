/* An amateur observatory on a hill, fed over armoured cable from the warden's house: the whole of it judged, then a
 * reading at the far end. Prints figures by their bits too, so that two machines can be compared. */
#include "../faultpath.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* Static, so that nothing is asked of the stack; some 27 kB and 2 kB. */
static fp_installation installation;
static fp_design design;

struct findings {
    fp_finding kept[64];
    size_t count;
    size_t dropped;
};

static void keep(void *context, const fp_finding *finding)
{
    struct findings *all = context;
    if (all->count < sizeof all->kept / sizeof all->kept[0]) {
        all->kept[all->count++] = *finding;
    } else {
        all->dropped++;
    }
}

static uint32_t bits(float v)
{
    uint32_t out;
    memcpy(&out, &v, sizeof out);
    return out;
}

static void show(const char *name, fp_optional v)
{
    if (v.given) {
        printf(" %s %.4g [%08" PRIx32 "]", name, (double)v.value, bits(v.value));
    } else {
        printf(" %s not known", name);
    }
}

static int told(const char *what, fp_status status, const fp_error *error)
{
    if (status == FP_STATUS_OK) {
        return 0;
    }
    printf("%s: status %u, field %u, reason %u, section %u\n", what, (unsigned)status, (unsigned)error->field,
           (unsigned)error->reason, (unsigned)error->section);
    return 1;
}

static fp_optional of(float v)
{
    fp_optional out = {v, 1};
    return out;
}

int main(void)
{
    fp_error error;
    fp_profile profile;
    if (told("profile", fp_profile_uk(&profile), &error)) {
        return 1;
    }

    /* The quickest use: one device, one limit, one reading. */
    fp_device b32 = {.family = FP_FAMILY_BREAKER_B, .rating = 32.0f, .breaking = {6000.0f, 1}};
    float seconds, limit;
    if (told("time", fp_required_time(FP_EARTHING_TN_CS, 230.0f, FP_USE_SOCKETS, 32.0f, &seconds, &error), &error) ||
        told("max Zs", fp_max_zs(&b32, seconds, 230.0f, profile.cmin, &limit, &error), &error)) {
        return 1;
    }
    fp_meter meter = {.share = 0.03f, .digits = 5.0f, .resolution = 0.01f};
    fp_shown shown = {.figure = 0.92f};
    fp_outcome outcome;
    if (told("reading", fp_judge(FP_SENSE_AT_MOST, &shown, &meter, limit, &outcome, &error), &error)) {
        return 1;
    }
    printf("B32: %.1f s, largest Zs %.4f [%08" PRIx32 "], 0.92 read: outcome %u\n", (double)seconds, (double)limit,
           bits(limit), (unsigned)outcome);

    /* The installation. */
    fp_supply supply = {
        .u0 = 230.0f,
        .phases = FP_PHASES_SINGLE,
        .earthing = FP_EARTHING_TN_CS,
        .ze = {0.28f, 1},
        .ze_origin = FP_ORIGIN_MEASURED,
        .fault_level = FP_FAULT_LEVEL_FROM_ZE,
        .has_device = 1,
        .device = {.family = FP_FAMILY_BS88_THREE, .rating = 80.0f},
        .neutral = {25.0f, 1},
        .tails = {25.0f, 1},
        .has_earthing_conductor = 1,
        .earthing_conductor = {.conductor = {16.0f, FP_MATERIAL_COPPER}, .mechanical = 1, .corrosion = 1},
        .extraneous = 1,
        .has_bonding = 1,
        .bonding = {10.0f, FP_MATERIAL_COPPER},
    };
    fp_board house = {.feed = FP_FEED_ORIGIN};
    fp_board dome = {.feed = FP_FEED_CIRCUIT, .circuit = 0};
    fp_section feed_cable = {
        .length = 62.0f,
        .part = FP_PART_RUN,
        .material = FP_MATERIAL_COPPER,
        .csa = 10.0f,
        .insulation = FP_INSULATION_THERMOSETTING_NINETY,
        .construction = FP_CONSTRUCTION_ARMOURED,
        .cores = 3,
        .operating_limit = {70.0f, 1},
        .protective = FP_PROTECTIVE_ARMOUR_AND_CORE,
        .protective_conductor = {10.0f, FP_MATERIAL_COPPER},
        .laying = {.method = FP_METHOD_GROUND,
                   .ambient = 15.0f,
                   .grouped = 1,
                   .arrangement = FP_ARRANGEMENT_TOUCHING,
                   .soil = {2.5f, 1},
                   .depth = {0.6f, 1}},
    };
    fp_circuit feed = {
        .sections = &feed_cable,
        .section_count = 1,
        .board = 0,
        .phase = FP_PHASE_L1,
        .shape = FP_SHAPE_RADIAL,
        .purpose = FP_USE_DISTRIBUTION,
        .device = {.family = FP_FAMILY_BREAKER_C, .rating = 40.0f, .breaking = {6000.0f, 1}, .class_3 = 1},
        .demand = FP_DEMAND_DERIVED,
        .power_factor = 1.0f,
        .load_class = FP_LOAD_CLASS_OTHER,
        .points = 1,
    };
    fp_section socket_cable = {
        .length = 18.0f,
        .part = FP_PART_RUN,
        .material = FP_MATERIAL_COPPER,
        .csa = 2.5f,
        .insulation = FP_INSULATION_THERMOPLASTIC_SEVENTY,
        .construction = FP_CONSTRUCTION_FLAT_TWIN,
        .cores = 2,
        .protective = FP_PROTECTIVE_CORE,
        .protective_conductor = {1.5f, FP_MATERIAL_COPPER},
        .laying = {.method = FP_METHOD_CLIPPED, .ambient = 30.0f, .grouped = 1, .arrangement = FP_ARRANGEMENT_BUNCHED},
    };
    fp_circuit sockets = {
        .sections = &socket_cable,
        .section_count = 1,
        .board = 1,
        .phase = FP_PHASE_L1,
        .shape = FP_SHAPE_RADIAL,
        .purpose = FP_USE_SOCKETS,
        .device = {.family = FP_FAMILY_RCBO_B, .rating = 16.0f, .breaking = {6000.0f, 1}, .class_3 = 1},
        .has_rcd = 1,
        .rcd = {0.03f, FP_RCD_TYPE_A, FP_RCD_DELAY_NONE},
        .demand = FP_DEMAND_CURRENT,
        .load = 10.0f,
        .power_factor = 0.95f,
        .load_class = FP_LOAD_CLASS_SOCKETS,
        .points = 1,
    };
    uint16_t id;
    if (told("installation", fp_installation_make(&installation, &profile, &supply, &error), &error) ||
        told("house", fp_installation_add_board(&installation, &house, &id, &error), &error) ||
        told("dome", fp_installation_add_board(&installation, &dome, &id, &error), &error) ||
        told("feed", fp_installation_add_circuit(&installation, &feed, &id, &error), &error) ||
        told("sockets", fp_installation_add_circuit(&installation, &sockets, &id, &error), &error)) {
        return 1;
    }

    static struct findings all;
    if (told("assess", fp_installation_assess(&installation, keep, &all, &outcome, &error), &error)) {
        return 1;
    }
    printf("installation: outcome %u, %u findings, %u without room\n", (unsigned)outcome, (unsigned)all.count,
           (unsigned)all.dropped);
    for (size_t n = 0; n < all.count; n++) {
        const fp_finding *f = &all.kept[n];
        printf("place %u.%u check %2u rule %2u outcome %u", (unsigned)f->place, (unsigned)f->id, (unsigned)f->check,
               (unsigned)f->rule, (unsigned)f->outcome);
        show("value", f->value);
        show("limit", f->limit);
        printf(" lacking %" PRIx32 " assumed %x\n", f->lacking, (unsigned)f->assumed);
    }

    /* Zs at the far socket, read with the cables at 8 degrees. */
    fp_judged judged;
    shown.figure = 0.81f;
    if (told("design", fp_design_in_installation(&design, &installation, FP_EARTHING_TN_CS, id, 8.0f, &error),
             &error) ||
        told("Zs", fp_read_zs(&design, &shown, &meter, &judged, &error), &error)) {
        return 1;
    }
    printf("Zs 0.81 read: outcome %u, meaning %u,", (unsigned)judged.outcome, (unsigned)judged.meaning);
    show("low", judged.low);
    show("high", judged.high);
    show("limit", judged.limit);
    show("expected", judged.expected);
    printf("\n");

    fp_rcd rcd = sockets.rcd;
    fp_meter clock = {.share = 0.02f, .digits = 2.0f, .resolution = 0.001f};
    shown.figure = 0.024f;
    if (told("RCD", fp_read_rcd_time(&rcd, FP_WAVE_SINE, FP_MULTIPLE_FIVE, &shown, &clock, &judged, &error), &error)) {
        return 1;
    }
    printf("RCD 24 ms at 5 times: outcome %u\n", (unsigned)judged.outcome);

    shown.figure = 0.7f;
    fp_meter megohms = {.share = 0.05f, .digits = 2.0f, .resolution = 0.01f};
    if (told("insulation",
             fp_read_insulation(FP_CIRCUIT_CLASS_NOMINAL, 230.0f, 500.0f, 0, 0, 1, &shown, &megohms, &judged, &error),
             &error)) {
        return 1;
    }
    printf("0.70 megohms: outcome %u\n", (unsigned)judged.outcome);

    fp_shown stakes[3] = {{58.0f, 0}, {55.0f, 0}, {59.0f, 0}};
    fp_meter earth = {.share = 0.02f, .digits = 3.0f, .resolution = 0.1f};
    if (told("electrode", fp_read_electrode(stakes, &earth, of(1666.0f), &judged, &error), &error)) {
        return 1;
    }
    printf("electrode: outcome %u,", (unsigned)judged.outcome);
    show("RA", judged.value);
    printf("\n");
    return 0;
}
