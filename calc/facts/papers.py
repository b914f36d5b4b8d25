"""The papers among the sources: measured cells, their fires, and how they age."""

from __future__ import annotations

from calc.facts.cited import Provenance, Source

PAPERS: dict[str, Source] = {
    "maleki-2014": Source(
        "Journal of Power Sources 263, 223", "Maleki and others: pouch cells of 3.0 to 4.2 V and of 3.0 to 4.35 V", "2014"
    ),
    "ai-2020": Source(
        "Journal of The Electrochemical Society 167, 013512",
        "Ai and others: parameters of a lithium cobalt oxide and graphite pouch cell",
        "2020",
    ),
    "chen-2020": Source(
        "Journal of The Electrochemical Society 167, 080534", "Chen and others: parameters of a nickel-rich round cell", "2020"
    ),
    "prada-2013": Source(
        "Journal of The Electrochemical Society 160, A616", "Prada and others: parameters of an iron phosphate and graphite cell", "2013"
    ),
    "ramadass-2004": Source(
        "Journal of The Electrochemical Society 151, A196",
        "Ramadass and others: parameters of a lithium cobalt oxide and graphite cell",
        "2004",
        provenance=Provenance.COMPUTED,
    ),
    "ecker-2015": Source(
        "Journal of The Electrochemical Society 162, A1836 and A1849",
        "Ecker and others: parameters of a nickel-cobalt oxide and graphite pouch cell",
        "2015",
    ),
    "mohtat-2020": Source(
        "Journal of The Electrochemical Society, doi 10.1149/1945-7111/aba5d1",
        "Mohtat and others: parameters of a nickel-manganese-cobalt oxide and graphite pouch cell",
        "2020",
        provenance=Provenance.COMPUTED,
    ),
    "kim-2011": Source(
        "Journal of The Electrochemical Society, doi 10.1149/1.3597614",
        "Kim and others: parameters of a nickel-cobalt-aluminium oxide and graphite pouch cell",
        "2011",
    ),
    "jang-2002": Source(
        "Journal of The Electrochemical Society 149", "Jang, Dudney and others: lithium cobalt oxide charged above 4.2 V", "2002"
    ),
    "marquis-2019": Source(
        "Journal of The Electrochemical Society 166, A3693",
        "Marquis and others: parameters of a lithium cobalt oxide and graphite pouch cell, full at 4.1 V",
        "2019",
    ),
    "larsson-2017": Source(
        "Scientific Reports 7, 10018",
        "Larsson and others: toxic fluoride gas from lithium-ion battery fires",
        "2017",
        "Larsson 2017",
        provenance=Provenance.READ,
    ),
    "hendricks-2020": Source(
        "Journal of The Electrochemical Society 167, 090501",
        "Hendricks and others: copper dissolved by deep discharge of lithium-ion cells",
        "2020",
        "Hendricks 2020",
        provenance=Provenance.READ,
    ),
    "mclaren-2005": Source(
        "Pediatrics 116, e109",
        "McLaren and others: temperature rise in enclosed vehicles on 16 clear days of 72 to 96 °F",
        "2005",
        "McLaren 2005",
        provenance=Provenance.READ,
    ),
    "keil-2016": Source(
        "Journal of The Electrochemical Society 163, A1872",
        "Keil and others: calendar ageing of lithium-ion cells at 16 states of charge",
        "2016",
        "Keil 2016",
        provenance=Provenance.READ,
    ),
    "schmalstieg-2014": Source(
        "Journal of Power Sources 257, 325",
        "Schmalstieg and others: an ageing model of a nickel-manganese-cobalt oxide round cell",
        "2014",
        "Schmalstieg 2014",
    ),
    "rsc-advances-2025": Source(
        "RSC Advances 15, 22576",
        "An electrochemical model of storage ageing, fitted to measured iron phosphate cells",
        "2025",
        "RSC Advances 2025",
        provenance=Provenance.READ,
    ),
    "heat-capacity": Source(
        "Papers on the heat that cells hold",
        "Specific heat of lithium-ion cells by chemistry, as collected in reviews",
        "years not known to us",
    ),
    "feng-2018": Source("Energy Storage Materials 10, 246", "Feng and others: how lithium-ion cells run away, a review", "2018"),
    "ohsaki-2005": Source(
        "Journal of Power Sources 146, 97",
        "Ohsaki and others: what happens in lithium cobalt oxide cells that are charged too far (abstract read, place from memory)",
        "2005",
        "Ohsaki 2005",
        provenance=Provenance.READ,
    ),
    "doh-2008": Source(
        "Journal of Power Sources 175, 881",
        "Doh and others: safety tests of a lithium cobalt oxide pouch cell of 1 Ah (abstract read, first author from memory)",
        "2008",
        "Doh 2008",
        provenance=Provenance.READ,
    ),
    "energy-storage-163": Source(
        "Journal of Energy Storage 163, 122197",
        "Lithium plating in lithium cobalt oxide and graphite cells that are charged at -10 °C (abstract read)",
        "2026",
        "J. Energy Storage 163",
        provenance=Provenance.READ,
    ),
    "golubkov-2014": Source(
        "RSC Advances 4, 3633",
        "Golubkov and others: round cells of three chemistries heated until they run away (title read)",
        "2014",
        "Golubkov 2014",
        provenance=Provenance.MEMORY,  # Only lists of references could be found, and not its abstract.
    ),
    "prior-power": Source(
        "CRC Press",
        "Prior: Optimizing small multi-rotor unmanned aircraft, chapter 2, lithium-polymer power supply (abstract read)",
        "year not known to us",
        "Prior, multi-rotor aircraft",
    ),
    "theuerkauf-2022": Source(
        "Batteries 8, 77",
        "Theuerkauf and Swan: how the voltage of lithium-ion cells comes to rest; three hours were enough for two of three kinds (abstract read)",
        "2022",
        "Theuerkauf 2022",
        provenance=Provenance.READ,
    ),
    "drone-storage-study": Source(
        "A Korean journal, listed by RISS",
        "Self-discharge of lithium-polymer packs of drones, stored for eight months at 3.2, 3.8 and 4.2 V per cell (abstract read)",
        "year not known to us",
        "A study of stored drone packs",
        provenance=Provenance.READ,
    ),
}
