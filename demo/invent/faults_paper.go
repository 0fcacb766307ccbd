package invent

import "sixteen/demo/sheetprint"

// paperFaults are faults of the document itself.
var paperFaults = []Fault{
	{"revision-old", "The sheet was last revised in 2009.", "Later knowledge is not in it.", "sheet-old",
		func(s *sheetprint.Spec) bool {
			s.Revision, s.Supersedes, s.Printed = "2009-04-14", "", ""
			return true
		}},
	{"revision-missing", "The sheet carries no date.", "Nobody can tell whether it is current.", "revision-date-missing",
		func(s *sheetprint.Spec) bool {
			ok := s.Revision != ""
			s.Revision, s.Supersedes, s.Printed = "", "", ""
			return ok
		}},
	{"dates-reversed", "The sheet replaces an issue that is younger than itself.", "One of the dates is wrong.", "date-impossible",
		func(s *sheetprint.Spec) bool {
			ok := s.Revision != ""
			s.Supersedes = "2026-10-05"
			return ok && s.Revision < s.Supersedes
		}},
	{"emergency-phone-missing", "Section 1 has no emergency telephone number.", "Nobody can be asked at night.", "emergency-phone-missing",
		func(s *sheetprint.Spec) bool {
			ok := s.Emergency != ""
			s.Emergency = ""
			return ok
		}},
	{"section-missing", "Section 12 is left out.", "A required part is absent.", "section-missing",
		func(s *sheetprint.Spec) bool {
			s.OmitSections = append(s.OmitSections, 12)
			return europe(s.Rules)
		}},
	{"supplier-missing", "Section 1 does not say who answers for the sheet.", "Nobody can be asked.", "supplier-missing",
		func(s *sheetprint.Spec) bool {
			ok := s.Supplier.Name != ""
			s.Supplier = sheetprint.Supplier{}
			return ok
		}},
}
