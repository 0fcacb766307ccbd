package audit

func checkEmergencyPhoneMissing() Check {
	return item{
		ID: "emergency-phone-missing", Title: "No emergency telephone number", Section: 1, Harm: HarmLasting,
		Could: "In a poisoning minutes are lost looking for somebody who knows what is in the tin.",
		What:  "an emergency telephone number", Term: "@emergency",
		Clauses: contents("1(e)", "1.4 (from memory)", "item 1(e)", "section 1: an Australian emergency number"),
		Example: "Section 1.4 is missing.", Do: "Write the number of your poison centre on the tin and on the card.",
		Present: func(c *Case) bool {
			return c.Sheet.Identification.EmergencyPhone.Known() || c.contactLine(telephone, urgent)
		},
	}.check()
}
