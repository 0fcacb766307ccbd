package substance

// The reasons name what the tables print; figures of tables that were recalled may also be misremembered, and the rows
// say so in Check.
var pairExceptions = map[string]string{
	"141-43-5 OSHA PEL TWA 3 ppm":            "29 CFR 1910.1000 Table Z-1 prints 6 mg/m³, approximate by its note b",
	"108-21-4 OSHA PEL TWA 250 ppm":          "29 CFR 1910.1000 Table Z-1 prints 950 mg/m³, approximate by its note b",
	"7647-01-0 OSHA PEL ceiling 5 ppm":       "29 CFR 1910.1000 Table Z-1 prints 7 mg/m³, approximate by its note b",
	"7647-01-0 NIOSH REL ceiling 5 ppm":      "rounded to whole mg/m³ as in Table Z-1 (recalled)",
	"141-43-5 NIOSH REL TWA 3 ppm":           "rounded to whole mg/m³ (recalled)",
	"111-42-2 NIOSH REL TWA 3 ppm":           "recalled as 15 mg/m³ beside 3 ppm",
	"137-05-3 NIOSH REL TWA 2 ppm":           "recalled as 8 mg/m³ beside 2 ppm",
	"137-05-3 NIOSH REL STEL 4 ppm":          "recalled as 16 mg/m³ beside 4 ppm",
	"7664-41-7 NIOSH REL STEL 35 ppm":        "recalled as 27 mg/m³ beside 35 ppm",
	"7664-41-7 Cal/OSHA PEL STEL 35 ppm":     "recalled as 27 mg/m³ beside 35 ppm",
	"108-05-4 NIOSH REL ceiling 4 ppm":       "rounded to 15 mg/m³ (recalled)",
	"108-05-4 Cal/OSHA PEL TWA 10 ppm":       "rounded to 30 mg/m³ (recalled)",
	"108-05-4 Cal/OSHA PEL STEL 15 ppm":      "rounded to 60 mg/m³ (recalled)",
	"584-84-9 Cal/OSHA PEL TWA 0.005 ppm":    "rounded to one figure (recalled)",
	"1338-23-4 NIOSH REL ceiling 0.2 ppm":    "printed for the trade mixture, not for one molecule",
	"1338-23-4 Cal/OSHA PEL ceiling 0.2 ppm": "printed for the trade mixture, not for one molecule",
	"1338-23-4 UK WEL STEL 0.2 ppm":          "printed for the trade mixture, not for one molecule",
	"141-32-2 UK WEL TWA 1 ppm":              "rounded to whole mg/m³ (recalled)",
	"110-63-4 DE AGW TWA 50 ppm":             "rounded to hundreds (recalled)",
	"110-63-4 DE AGW STEL 200 ppm":           "rounded to hundreds (recalled)",
	"88-12-0 DE AGW TWA 0.01 ppm":            "rounded to one figure (recalled)",
	"88-12-0 DE AGW STEL 0.02 ppm":           "rounded to one figure (recalled)",
	"96-29-7 DE AGW TWA 0.3 ppm":             "rounded to one figure (recalled)",
	"96-29-7 DE AGW STEL 2.4 ppm":            "eight times the rounded shift mean (recalled)",
	"91-20-3 EU IOELV TWA 10 ppm":            "rounded to one figure (recalled)",
	"91-20-3 DE AGW TWA 0.4 ppm":             "rounded to one figure (recalled)",
	"91-20-3 DE AGW STEL 1.6 ppm":            "four times the rounded shift mean (recalled)",
	"110-80-5 EU IOELV TWA 2 ppm":            "rounded to one figure (recalled)",
	"110-80-5 UK WEL TWA 2 ppm":              "rounded to one figure (recalled)",
	"7647-01-0 UK WEL TWA 1 ppm":             "rounded to one figure (recalled)",
}

var orderExceptions = map[string]string{}

var flashExceptions = map[string]string{
	"123-86-4 Flam. Liq. 3":   "22 °C in IEC 60079-20-1; measured values lie on both sides of 23 °C, the harmonised entry took category 3",
	"64742-47-8 Flam. Liq. 3": "a petroleum fraction sold in grades that flash below and above 60 °C; one typical figure is held",
}

var unclassifiedFlash = map[string]string{}

var physicalExceptions = map[string]string{
	"1333-86-4 molar mass": "carbon black is carbon; the molar mass of the atom stands for it",
}

var flashVapourExceptions = map[string]string{
	"115-10-6": "a gas; the flash point in tables is nominal",
	"106-97-8": "a gas; the flash point in tables is nominal",
	"75-21-8":  "a gas above 11 °C; the flash point in tables is nominal",
}

var estimateExceptions = map[string]string{
	"7697-37-2 Acute Tox. 1 inhalation_vapour": "two entries by strength are carried as one: the estimate seems to belong to 70 % or less, the category to stronger acid",
}
