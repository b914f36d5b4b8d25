"""The guidance among the sources: what fire services, safety authorities and workshop standards tell those who do the work."""

from __future__ import annotations

from calc.facts.cited import Provenance, Source

GUIDANCE: dict[str, Source] = {
    "wyfs-lithium": Source(
        "West Yorkshire Fire and Rescue Service",
        "Lithium-ion batteries: key safety messages",
        "read November 2026",
        "West Yorkshire fire service",
        provenance=Provenance.READ,
    ),
    "nfpa-smoke-alarms": Source(
        "NFPA",
        "Smoke alarms at home: where they hang, tested every month",
        "advice after NFPA 72, read in a reprint in November 2026",
        "NFPA on smoke alarms",
        provenance=Provenance.SECOND_HAND,
    ),
    "dft-premises-2024": Source(
        "UK Department for Transport",
        "E-cycle and e-scooter batteries: managing fire risk for premises",
        "1 February 2024, read in part",
        "UK DfT",
        provenance=Provenance.READ,
    ),
    "hse-indg139": Source(
        "UK Health and Safety Executive",
        "INDG139: Using electric storage batteries safely",
        "read November 2026",
        "HSE INDG139",
        provenance=Provenance.READ,
    ),
    "hse-solder": Source(
        "UK Health and Safety Executive",
        "Advice for solderers: fume of rosin flux and asthma",
        "read November 2026",
        "HSE on solder fume",
        provenance=Provenance.READ,
    ),
    "bba-2018": Source(
        "British Burn Association",
        "First aid guidelines: burns",
        "April 2018, read in a reprint",
        "British Burn Association",
        provenance=Provenance.SECOND_HAND,
    ),
    "navy-14329": Source(
        "US Navy",
        "NAVEDTRA 14329: maintenance and testing of lead-acid batteries, acid on skin and in eyes",
        "read November 2026",
        "US Navy 14329",
        provenance=Provenance.READ,
    ),
    "nasa-8739-4": Source(
        "NASA",
        "NASA-STD-8739.4 with change 6: 4.3 crimping of tinned strands, 9.8 heat-shrink sleeve, 19.2 and 19.6 soldered splices",
        "1998, changed 2011",
        "NASA-STD-8739.4",
        provenance=Provenance.READ,
    ),
    "iso-7010": Source(
        "ISO",
        "ISO 7010: safety signs. M002 refer to the booklet, W001 general warning, W021 flammable material",
        "edition not known to us",
        "ISO 7010",
        provenance=Provenance.MEMORY,  # No text that lists the signs by number could be found.
    ),
    "bmfa-handbook": Source(
        "British Model Flying Association",
        "Members' handbook: safety on the ground with electric models",
        "read in a club's reprint in November 2026",
        "BMFA handbook",
        provenance=Provenance.SECOND_HAND,
    ),
    "cpsc-generators": Source(
        "US Consumer Product Safety Commission",
        "Portable generators: outside only, at least 20 feet from the house, exhaust away from it, refuelled when cool",
        "read in reprints in November 2026",
        "US CPSC on generators",
        provenance=Provenance.SECOND_HAND,
    ),
    "cal-fire": Source(
        "California Department of Forestry and Fire Protection",
        "Equipment use: ten feet of clearance, a shovel and water for work that throws sparks; exhausts and dry grass",
        "read in reprints in November 2026",
        "CAL FIRE",
        provenance=Provenance.SECOND_HAND,
    ),
    "niosh-first-aid": Source(
        "US National Institute for Occupational Safety and Health",
        "Pocket guide, first aid procedures: eyes are washed with much water, the lids lifted",
        "read November 2026",
        "NIOSH",
        provenance=Provenance.READ,
    ),
    "erg-first-aid": Source(
        "Transport authorities of the USA, Canada and Mexico",
        "Emergency Response Guidebook: first aid, running water for at least 20 minutes. Makers' safety sheets, which were read, say 15",
        "edition not known to us",
        "Emergency guide, first aid",
        provenance=Provenance.MEMORY,  # The pages of first aid could not be read; the stricter number is kept.
    ),
    "army-mm5000": Source(
        "US Army",
        "Training text MM5000: a capacitor through a resistor, in five time constants full for all practical purposes",
        "read November 2026",
        "US Army MM5000",
        provenance=Provenance.READ,
    ),
    "battery-design": Source(
        "An engineers' site on battery design",
        "Relaxation delta voltage: a hard short inside a cell at rest lowers its voltage by 30 mV a day",
        "read November 2026",
        "Battery design",
        provenance=Provenance.READ,
    ),
    "pack-maker-guide": Source(
        "A maker of packs",
        "Technical guide to cell imbalance: a cell that differs by more than 0.1 V is abnormal",
        "read November 2026",
        "A pack maker's guide",
        provenance=Provenance.READ,
    ),
    "gauge-guide": Source(
        "A maker of circuits that gauge the charge of cells",
        "Guide to learning a cell: two hours of rest to the full open-circuit voltage",
        "read November 2026",
        "A gauge maker's guide",
        provenance=Provenance.READ,
    ),
    "mcut-safety": Source(
        "Ming Chi University of Technology",
        "Safety guidelines for lithium batteries: 40 to 60 % charged for long storage, looked at from time to time",
        "16 December 2025, read November 2026",
        "A university's guidelines",
        provenance=Provenance.READ,
    ),
}
