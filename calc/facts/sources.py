"""Every document that a number of the project comes from. The sources page prints this list.

Papers stand in `papers`, and what fire services, safety authorities and the bench advise in `guidance`; here are standards,
laws, handbooks and other advice. `practice` is what the trade does and no document states.
"""

from __future__ import annotations

from calc.facts.cited import Provenance, Source
from calc.facts.guidance import GUIDANCE
from calc.facts.papers import PAPERS

SOURCES: dict[str, Source] = (
    PAPERS
    | GUIDANCE
    | {
        "practice": Source("The trade", "Common practice, no source", "current", "common practice, no source"),
        "iec-62133-2": Source(
            "IEC",
            "IEC 62133-2: Safety requirements for portable sealed secondary lithium cells",
            "2017",
            provenance=Provenance.MEMORY,  # Only its title pages could be read. JEITA has the same limits.
        ),
        "iec-60598-1": Source("IEC", "IEC 60598-1: Luminaires", "2008"),
        "iec-62368-1": Source(
            "IEC",
            "IEC 62368-1: Audio/video, information and communication technology equipment, safety requirements: limit of class TS1",
            "2018",
        ),
        "jeita-2007": Source(
            "JEITA and BAJ",
            "Guide to the safe use of secondary lithium-ion batteries: charge voltage and current by temperature zone",
            "20 April 2007",
        ),
        "nfpa-lithium": Source("NFPA and US Fire Administration", "Lithium-ion battery safety sheet", "read November 2026", "NFPA"),
        "linden": Source("McGraw-Hill", "Linden's Handbook of Batteries, 4th edition", "2011", "Linden"),
        "iec-61960-3": Source("IEC", "IEC 61960-3: Secondary lithium cells and batteries for portable applications", "2017"),
        "cell-data-sheet": Source(
            "A maker of cells",
            "Data sheet of an iron phosphate cell of 304 Ah",
            "read November 2026, its year not known to us",
            "A cell's data sheet",
        ),
        "wikipedia-li-ion": Source("Wikipedia", "Lithium-ion battery", "a copy, read November 2026", "Wikipedia on lithium-ion"),
        "wikipedia-nimh": Source("Wikipedia", "Nickel-metal hydride battery", "copies, read November 2026", "Wikipedia on NiMH"),
        "bci-rest": Source(
            "Battery Council International",
            "Service table of rest voltage against state of charge, as widely reprinted",
            "year not known to us",
        ),
        "navy-electrician": Source(
            "US Navy", "Electrician's mate training text: lead-acid discharge test", "NAVEDTRA 14113 series, read November 2026"
        ),
        "peukert": Source("Engineering texts on lead-acid batteries", "Peukert's law in its 20-hour form", "1897, restated since"),
        "astm-b258": Source("ASTM", "ASTM B258: Diameters of solid round wires by gauge number", "year not known to us"),
        "iec-60028": Source("IEC", "IEC 60028: International standard of resistance for copper", "1925"),
        "iec-60228": Source("IEC", "IEC 60228: Conductors of insulated cables", "2004"),
        "33-cfr-183-425": Source(
            "US Code of Federal Regulations", "33 CFR 183.425 table 5: allowable current of conductors in boats", "read November 2026"
        ),
        "33-cfr-183-455": Source(
            "US Code of Federal Regulations",
            "33 CFR 183.455: protection of conductors against too much current, in boats",
            "read November 2026",
            "33 CFR 183.455",
        ),
        "iso-8820-3": Source("ISO", "ISO 8820-3: Road vehicles, fuse-links with tabs (blade type)", "year not known to us"),
        "faa-ac-43-13-1b": Source(
            "US Federal Aviation Administration",
            "AC 43.13-1B: Acceptable methods, techniques and practices, chapter 11, wiring",
            "1998, changed since",
            "FAA AC 43.13-1B",
            provenance=Provenance.READ,
        ),
        "woodbridge-1935": Source("Woodbridge", "The ampere-hour law of charging lead-acid batteries, as handbooks restate it", "1935"),
        "us-army-tm-9-6140": Source(
            "US Army", "TM 9-6140-200-14 (TM 10-6140-200-14): lead-acid storage batteries", "read November 2026", "US Army TM 9-6140"
        ),
        "army-rest": Source(
            "US Army", "TB 9-6140-252-13: placing used batteries into service", "15 March 2011", "US Army TB 9-6140-252-13"
        ),
        "army-agm": Source(
            "US Army",
            "TM 9-6115-730-24, work package 50: test of batteries of the glass mat kind, at rest for 3 hours or better 8",
            "read November 2026",
            "US Army TM 9-6115-730",
        ),
        "army-battery-test": Source(
            "US Army",
            "TM 5-3805-262-20, section 5-9: voltage test of a vehicle's batteries. 12.4 V is three quarters, 12.6 V is full",
            "read November 2026",
            "US Army TM 5-3805-262",
        ),
        "army-battery-storage": Source(
            "US Army",
            "TM 5-3820-256-24-4: stored batteries are checked every 30 days, and charged at a density of 1.225, three quarters",
            "read November 2026",
            "US Army TM 5-3820-256",
            provenance=Provenance.READ,
        ),
        "imi-glossary": Source(
            "Institute of the Motor Industry", "Glossary: charging rate", "read November 2026", "Motor Industry glossary"
        ),
        "nec-210-20": Source(
            "NFPA",
            "NEC 210.20(A): protection of branch circuits, loads that go on for hours",
            "NFPA 70, year not known to us",
            "NEC 210.20(A)",
        ),
        "sae-j537": Source("SAE", "SAE J537: Storage batteries", "year not known to us"),
        "abyc-e-11": Source("ABYC", "ABYC E-11: AC and DC electrical systems on boats", "2018"),
        "49-cfr-171-8": Source(
            "US Code of Federal Regulations",
            "49 CFR 171.8: definition of watt-hour",
            "read November 2026",
            "49 CFR 171.8",
            provenance=Provenance.READ,
        ),
        "erg-147": Source(
            "Transport authorities of the USA, Canada and Mexico",
            "Emergency Response Guidebook, guide 147: lithium-ion batteries",
            "read November 2026",
            "Emergency guide 147",
            provenance=Provenance.READ,
        ),
        "faa-safo-09013": Source(
            "US Federal Aviation Administration",
            "SAFO 09013 and its supplement: fighting fires of lithium batteries in portable devices",
            "2009",
            "FAA SAFO 09013",
            provenance=Provenance.READ,
        ),
        "faa-info-17021": Source(
            "US Federal Aviation Administration",
            "InFO 17021: lithium battery fires, and bags that are sold to hold them",
            "2017",
            "FAA InFO 17021",
            provenance=Provenance.READ,
        ),
        "ntsb-dca23fm005": Source(
            "US National Transportation Safety Board",
            "DCA23FM005: safety text on fires of lithium-ion batteries",
            "read November 2026",
            "NTSB",
            provenance=Provenance.READ,
        ),
        "london-fire-brigade": Source(
            "London Fire Brigade", "Advice on lithium-ion battery fires", "2023", provenance=Provenance.SECOND_HAND
        ),
        "cpsc-2025": Source(
            "US Consumer Product Safety Commission",
            "Safety advice for lithium-ion batteries",
            "4 September 2025",
            "US CPSC",
            provenance=Provenance.READ,
        ),
        "ama-2004": Source(
            "Academy of Model Aeronautics",
            "Safety committee's emergency alert on lithium batteries (its rules; its chemistry is out of date)",
            "23 April 2004",
            "AMA 2004",
            provenance=Provenance.READ,
        ),
        "ama-2015": Source(
            "Academy of Model Aeronautics",
            "Safety column on lithium-polymer packs and sand",
            "February 2015",
            "AMA 2015",
            provenance=Provenance.READ,
        ),
        "49-cfr-173-185": Source(
            "US Code of Federal Regulations",
            "49 CFR 173.185(f): damaged or recalled lithium batteries",
            "read November 2026",
            "49 CFR 173.185",
            provenance=Provenance.READ,
        ),
        "49-cfr-175-10": Source(
            "US Code of Federal Regulations",
            "49 CFR 175.10(a)(18): what passengers may carry by air",
            "text of 2018, read in part",
            "49 CFR 175.10",
            provenance=Provenance.READ,
        ),
        "epa-disposal": Source(
            "US Environmental Protection Agency", "Used lithium-ion batteries", "read November 2026", "US EPA", provenance=Provenance.READ
        ),
        "eu-2023-1542": Source(
            "European Union",
            "Regulation (EU) 2023/1542 on batteries and waste batteries, articles 64 and 74",
            "2023",
            "EU 2023/1542",
            provenance=Provenance.SECOND_HAND,
        ),
        "faa-packsafe": Source(
            "US Federal Aviation Administration",
            "PackSafe: lithium batteries that passengers may carry",
            "read November 2026",
            "FAA PackSafe",
        ),
        "iata-dgr": Source(
            "IATA",
            "Dangerous Goods Regulations: provisions for passengers, table 2.3.A, and packing of lithium-ion batteries",
            "66th and 67th, for 2025 and 2026",
            "IATA DGR",
        ),
        "icao-addendum-2026": Source(
            "ICAO",
            "Doc 9284, addendum on power banks: two for each person, in the cabin, not charged on board",
            "27 March 2026",
            "ICAO addendum",
            provenance=Provenance.READ,
        ),
        "phmsa-hm-224i": Source(
            "US Pipeline and Hazardous Materials Safety Administration",
            "HM-224I (87 FR 77995): lithium-ion batteries as air cargo",
            "in force since 20 January 2023",
            "PHMSA HM-224I",
        ),
        "phmsa-24-0050": Source(
            "US Pipeline and Hazardous Materials Safety Administration",
            "Interpretation 24-0050: damaged lithium batteries on their way to disposal",
            "2 July 2024",
            "PHMSA 24-0050",
            provenance=Provenance.READ,
        ),
        "adr-sp-188": Source("UNECE", "ADR special provision 188: small lithium batteries on the road", "ADR 2025", "ADR SP 188"),
        "adr-1-1-3-1": Source(
            "UNECE", "ADR 1.1.3.1(a): carriage by private individuals", "ADR 2025", "ADR 1.1.3.1(a)", provenance=Provenance.SECOND_HAND
        ),
        "upu-2013": Source(
            "Universal Postal Union",
            "Lithium batteries in international mail: installed in equipment only",
            "in force since 1 January 2013",
            "UPU",
        ),
        "un-38-3": Source(
            "United Nations",
            "UN 38.3: Manual of Tests and Criteria, tests of lithium batteries before transport",
            "revision not known to us",
            "UN 38.3",
            provenance=Provenance.SECOND_HAND,
        ),
        "usabc-1996": Source(
            "US Department of Energy",
            "USABC Electric Vehicle Battery Test Procedures Manual, revision 2 (DOE/ID-10479)",
            "1996",
            "USABC 1996",
            provenance=Provenance.MEMORY,  # The manual's first pages could be read, and not the page with the end of life.
        ),
        "freedomcar-2003": Source(
            "US Department of Energy",
            "FreedomCAR Battery Test Manual for Power-Assist Hybrid Electric Vehicles (DOE/ID-11069)",
            "2003",
            "FreedomCAR 2003",
            provenance=Provenance.MEMORY,  # The manual could not be had.
        ),
        "battery-encyclopedia": Source(
            "A firm that watches over batteries",
            "Battery encyclopedia: End of life",
            "read November 2026, its year not known to us",
            "A battery encyclopedia",
        ),
        "iec-60063": Source("IEC", "IEC 60063: Preferred number series for resistors and capacitors", "2015"),
        "mil-prf-26": Source(
            "US Department of Defense", "MIL-PRF-26: Resistors, fixed, wirewound, power type", "revision H, year not known to us"
        ),
        "heat-transfer": Source("Heat transfer textbooks", "Natural convection in air, laminar", "restated since 1881"),
        "fink-beaty-1978": Source("McGraw-Hill", "Standard Handbook for Electrical Engineers, 11th edition, section 22", "1978"),
        "nist-handbook": Source("NIST and SEMATECH", "e-Handbook of Statistical Methods", "2012, as now published", "NIST handbook"),
        "cengel-convection": Source("McGraw-Hill", "Cengel: notes on convection heat transfer", "read November 2026"),
    }
)
