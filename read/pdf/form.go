package pdf

// Fields of a form are not part of a page's content. PDFium draws their values into the content (flattens them) before
// the page is read, so that values stand where a reader sees them.

const (
	formNone        = 0    // FORMTYPE_NONE, fpdf_formfill.h
	formInfoSize    = 256  // more than FPDF_FORMFILLINFO of version 2 takes
	formInfoVersion = 2    // without callbacks no version needs more
	annotWidget     = 20   // FPDF_ANNOT_WIDGET, fpdf_annot.h
	annotFreeText   = 3    // FPDF_ANNOT_FREETEXT
	annotsLookedAt  = 2000 // of a page
)

// startForm prepares the fields of a document that has some.
func (d *Document) startForm() {
	d.form = 0
	if d.in.int("FPDF_GetFormType", d.doc) == formNone {
		return
	}
	info := make([]byte, formInfoSize)
	info[0] = formInfoVersion
	if p := d.in.put(info); p != 0 {
		d.form = d.in.call("FPDFDOC_InitFormFillEnvironment", d.doc, p)
	}
}

func (d *Document) endForm() {
	if d.form != 0 {
		d.in.call("FPDFDOC_ExitFormFillEnvironment", d.form)
		d.form = 0
	}
}

// openPage loads page i with its fields and typed notes drawn into its content. It returns 0 when there is no page.
func (d *Document) openPage(i int) uint64 {
	in := d.in
	handle := in.long(d.ctx, "FPDF_LoadPage", d.doc, uint64(i))
	if handle == 0 || !in.hasFields(handle) {
		return handle
	}
	if d.form != 0 {
		in.call("FORM_OnAfterLoadPage", handle, d.form)
	}
	const flattenSuccess, forDisplay = 1, 0
	flat := in.int("FPDFPage_Flatten", handle, forDisplay) == flattenSuccess
	if d.form != 0 {
		in.call("FORM_OnBeforeClosePage", handle, d.form)
	}
	if !flat {
		return handle
	}
	in.call("FPDF_ClosePage", handle)
	return in.long(d.ctx, "FPDF_LoadPage", d.doc, uint64(i))
}

// hasFields tells whether form fields or typed notes lie on the page.
func (in *instance) hasFields(page uint64) bool {
	for i := range min(in.int("FPDFPage_GetAnnotCount", page), annotsLookedAt) {
		annot := in.call("FPDFPage_GetAnnot", page, uint64(i))
		if annot == 0 {
			continue
		}
		kind := in.int("FPDFAnnot_GetSubtype", annot)
		in.call("FPDFPage_CloseAnnot", annot)
		if kind == annotWidget || kind == annotFreeText {
			return true
		}
	}
	return false
}
