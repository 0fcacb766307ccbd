package sheetprint

import "sixteen/ghs"

// phrase is the statement's wording in the sheet's language.
func phrase(code ghs.Code, s Spec) string {
	return "phrase of " + string(code)
}
