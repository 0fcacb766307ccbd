package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func paperTrials() []trial {
	eu, us, ca, au, gb := ghs.EUCLP, ghs.USHCS2024, ghs.CAHPR, ghs.AUWHS, ghs.GBCLP
	id := func(f func(*sheet.Identification)) func(*Case) { return func(c *Case) { f(&c.Sheet.Identification) } }
	return []trial{
		finds("section-missing", Gap, "no section 11", eu, resin, func(c *Case) { c.Sheet.Sections[11] = sheet.Section{} }),
		finds("section-missing", Note, "US sheets owe section 13 as a heading only", us, resin, func(c *Case) { c.Sheet.Sections[13] = sheet.Section{} }),
		passes("section-missing", "a section the reader could not read is not missing", eu, resin, func(c *Case) {
			c.Sheet.Sections[11] = sheet.Section{}
			c.Sheet.Problems = []sheet.ReadProblem{{Section: 11, Page: 5, What: "too dark"}}
		}),
		finds("section-missing", Gap, "section 13 follows 11, and 11 does not speak of water life", eu, resin, func(c *Case) {
			c.Sheet.Sections[12] = sheet.Section{}
			c.Sheet.Problems = []sheet.ReadProblem{{Section: 12, What: "the heading of section 12 was not found"}}
		}),
		passes("section-missing", "a heading that is a picture leaves its text in the section before", eu, resin, func(c *Case) {
			c.Sheet.Sections[11].Text = append(c.Sheet.Sections[11].Text, line(11, "Toxic to aquatic organisms: LC50 fish 2 mg/l"))
			c.Sheet.Sections[12] = sheet.Section{}
			c.Sheet.Problems = []sheet.ReadProblem{{Section: 12, What: "the heading of section 12 was not found"}}
		}),
		passes("section-missing", "a lost page may have held it", eu, resin, func(c *Case) {
			c.Sheet.Sections[12] = sheet.Section{}
			c.Sheet.Problems = []sheet.ReadProblem{{Page: 5, What: "page 5 is a picture without text"}, {Section: 12, What: "the heading of section 12 was not found"}}
		}),
		finds("section-order", Gap, "section 5 on a page before section 4", eu, resin, func(c *Case) { c.Sheet.Sections[5].Heading.Page = 3 }),
		passes("section-order", "sections on one page", eu, resin, func(c *Case) { c.Sheet.Sections[5].Heading.Page = 4 }),
		finds("section-empty", Gap, "a heading and nothing below", eu, resin, func(c *Case) { c.Sheet.Sections[10].Text = nil }),
		passes("section-empty", "US section 14 may be a heading only", us, resin, func(c *Case) { c.Sheet.Sections[14].Text = nil }),
		finds("unreadable", Note, "a page was lost", eu, resin, func(c *Case) {
			c.Sheet.Problems = []sheet.ReadProblem{{Page: 2, What: "page 2 is too dark", Do: "type it in"}}
		}),
		passes("unreadable", "everything was read", eu, resin, nil),
		finds("product-name-missing", Gap, "no name", us, resin, id(func(i *sheet.Identification) { i.ProductName = sheet.Fact[string]{} })),
		passes("product-name-missing", "a name", us, resin, nil),
		finds("product-name-missing", Gap, "the supplier's name at the head of the page is not the product's", us, resin, id(func(i *sheet.Identification) { i.ProductName = i.Supplier })),
		finds("uses-missing", Gap, "no use", eu, resin, id(func(i *sheet.Identification) { i.Uses, i.UsesAgainst = sheet.Fact[string]{}, sheet.Fact[string]{} })),
		passes("uses-missing", "only uses advised against", eu, resin, id(func(i *sheet.Identification) { i.Uses = sheet.Fact[string]{} })),
		finds("supplier-missing", Gap, "nobody", ca, resin, id(func(i *sheet.Identification) { i.Supplier = sheet.Fact[string]{} })),
		passes("supplier-missing", "somebody", ca, resin, nil),
		finds("supplier-address-missing", Gap, "no address", us, resin, id(func(i *sheet.Identification) { i.SupplierAddress = sheet.Fact[string]{} })),
		passes("supplier-address-missing", "where the supplier itself is missing, that is said once", us, resin, id(func(i *sheet.Identification) {
			i.Supplier, i.SupplierAddress = sheet.Fact[string]{}, sheet.Fact[string]{}
		})),
		finds("supplier-phone-missing", Gap, "numbers of laws and dates are no telephone", gb, resin, func(c *Case) {
			c.Sheet.Identification.SupplierPhone = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "Regulation (EC) No 1907/2006 (REACH); 29 CFR 1910.1200 (OSHA); 15 January 2025"))
		}),
		finds("supplier-address-missing", Gap, "a year before a capital is no postcode, an e-mail address no address", us, resin, func(c *Case) {
			c.Sheet.Identification.SupplierAddress = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "Révisée le: 15 janvier 2025 Version: 1.1"), line(1, "E-mail address: sheets@quaynine.example"))
		}),
		passes("supplier-address-missing", "an address behind its name", us, resin, func(c *Case) {
			c.Sheet.Identification.SupplierAddress = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "Manufacturer Address: Ropewalk, Port Anders"))
		}),
		finds("supplier-phone-missing", Gap, "no telephone", gb, resin, id(func(i *sheet.Identification) { i.SupplierPhone = sheet.Fact[string]{} })),
		passes("supplier-phone-missing", "a telephone", gb, resin, nil),
		finds("supplier-phone-missing", Gap, "the emergency number is not the supplier's", gb, resin, func(c *Case) {
			c.Sheet.Identification.SupplierPhone = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "Emergency phone: +00 123 999"))
		}),
		passes("supplier-phone-missing", "a number that was not understood as the supplier's", gb, resin, func(c *Case) {
			c.Sheet.Identification.SupplierPhone = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "Quay Nine Supply, call us: +00 (123) 456-78"))
		}),
		finds("email-missing", Gap, "EU sheets owe an e-mail address", eu, resin, id(func(i *sheet.Identification) { i.SupplierEmail = sheet.Fact[string]{} })),
		passes("email-missing", "US sheets do not", us, resin, id(func(i *sheet.Identification) { i.SupplierEmail = sheet.Fact[string]{} })),
		finds("emergency-phone-missing", Gap, "no emergency number", us, resin, id(func(i *sheet.Identification) { i.EmergencyPhone = sheet.Fact[string]{} })),
		passes("emergency-phone-missing", "a number", us, resin, nil),
		finds("emergency-phone-missing", Gap, "a sales number is none", us, resin, func(c *Case) {
			c.Sheet.Identification.EmergencyPhone = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "Sales: +00 (123) 456-78"))
		}),
		finds("emergency-phone-missing", Gap, "a date below the heading is no number", us, resin, func(c *Case) {
			c.Sheet.Identification.EmergencyPhone = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "1.4 Emergency telephone number"), line(1, "Revised on 2025-08-31"))
		}),
		passes("emergency-phone-missing", "a number on the line below the word", us, resin, func(c *Case) {
			c.Sheet.Identification.EmergencyPhone = sheet.Fact[string]{}
			c.Sheet.Sections[1].Text = append(c.Sheet.Sections[1].Text, line(1, "In an emergency"), line(1, "+00 (123) 456-78"))
		}),
		finds("ufi-missing", Note, "no identifier on an EU sheet of a sensitiser", eu, resin, id(func(i *sheet.Identification) { i.UFI = sheet.Fact[string]{} })),
		passes("ufi-missing", "the label carries it", eu, resin, func(c *Case) {
			c.Sheet.Identification.UFI = sheet.Fact[string]{}
			c.Label = &Label{UFI: "QN00-V0RX-D00W-5J3K"}
		}),
		finds("registration-missing", Note, "CAS numbers only", eu, resin, func(c *Case) {
			for i := range c.Sheet.Composition.Ingredients {
				c.Sheet.Composition.Ingredients[i].REACH = sheet.Fact[string]{}
			}
		}),
		passes("registration-missing", "one ingredient carries it", eu, resin, func(c *Case) { c.Sheet.Composition.Ingredients[0].REACH = sheet.Fact[string]{} }),
		finds("revision-date-missing", Gap, "no date at all", eu, resin, id(func(i *sheet.Identification) { i.RevisionDate = sheet.Fact[string]{} })),
		passes("revision-date-missing", "an issue date", eu, resin, id(func(i *sheet.Identification) {
			i.RevisionDate, i.IssueDate = sheet.Fact[string]{}, text(16, "2025-01-01")
		})),
		finds("date-impossible", Contradiction, "revised in the future", eu, resin, id(func(i *sheet.Identification) { i.RevisionDate = text(16, "2027-01-01") })),
		finds("date-impossible", Contradiction, "older than what it replaces", eu, resin, id(func(i *sheet.Identification) { i.SupersedesDate = text(16, "2025-07-01") })),
		passes("date-impossible", "replaces the version of the day before", eu, resin, id(func(i *sheet.Identification) { i.SupersedesDate = text(16, "2025-05-31") })),
		finds("sheet-old", Gap, "an EU sheet older than the present format", eu, resin, id(func(i *sheet.Identification) { i.RevisionDate = text(16, "2019-01-01") })),
		finds("sheet-old", Gap, "an Australian sheet unreviewed for five years", au, resin, id(func(i *sheet.Identification) { i.RevisionDate = text(16, "2021-02-01") })),
		finds("sheet-old", Note, "a US sheet of four years", us, resin, id(func(i *sheet.Identification) { i.RevisionDate = text(16, "2022-02-01") })),
		passes("sheet-old", "two years", us, resin, id(func(i *sheet.Identification) { i.RevisionDate = text(16, "2024-02-01") })),
		finds("legacy-wording", Gap, "R43", eu, resin, func(c *Case) {
			c.Sheet.Hazards.RiskPhrases = []sheet.Fact[sheet.Statement]{stated(2, sheet.Statement{Code: "R43", Phrase: "May cause sensitisation by skin contact"}, "R43")}
		}),
		finds("legacy-wording", Gap, "a sheet of the old kind", us, resin, func(c *Case) { c.Sheet.PreGHS = stated(1, true, "MSDS") }),
		finds("legacy-wording", Gap, "R36/38 among the statements", eu, resin, func(c *Case) { addStatement(&c.Sheet.Hazards, "", "Xi - R36/38") }),
		passes("legacy-wording", "H codes", eu, resin, nil),
		finds("wrong-market", Gap, "a US sheet in Europe", eu, resin, func(c *Case) { c.Sheet.Jurisdiction = stated(1, us, "29 CFR 1910.1200") }),
		passes("wrong-market", "the US text of 2012 judged by that of 2024", us, resin, func(c *Case) { c.Sheet.Jurisdiction = stated(1, ghs.USHCS2012, "HCS 2012") }),
		finds("language", Gap, "a German sheet in the United States", us, resin, func(c *Case) { c.Sheet.Language = stated(1, ghs.German, "Sicherheitsdatenblatt") }),
		passes("language", "a French sheet in Canada", ca, resin, func(c *Case) { c.Sheet.Language = stated(1, ghs.French, "Fiche de données") }),
		finds("classification-missing", Gap, "nothing said", us, resin, func(c *Case) { c.Sheet.Hazards = sheet.Hazards{} }),
		passes("classification-missing", "said not to be classified", us, resin, func(c *Case) { c.Sheet.Hazards = sheet.Hazards{Classified: sheet.NoneStated} }),
		finds("statements-missing", Gap, "classes only", eu, resin, func(c *Case) { c.Sheet.Hazards.Statements = nil }),
		passes("statements-missing", "a class without a statement of its own", us, resin, func(c *Case) { c.Sheet.Hazards = sheet.Hazards{Classified: sheet.NoneStated} }),
		finds("precautions-missing", Gap, "hazards and no precautions", eu, resin, func(c *Case) { c.Sheet.Hazards.Precautions = nil }),
		passes("precautions-missing", "not classified", eu, resin, func(c *Case) { c.Sheet.Hazards = sheet.Hazards{Classified: sheet.NoneStated} }),
	}
}
