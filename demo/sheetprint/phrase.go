package sheetprint

import "sixteen/ghs"

// phrase is the statement's wording in the sheet's language, "" where it is not carried; the code then stands alone.
func phrase(code ghs.Code, s Spec) string { return "" }
