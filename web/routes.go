package web

// Route is one address of the application: what answers it and which role it needs.
type Route struct {
	Method, Path string
	Need         Role
	Serve        func(*App, *visit) error
	Large        int64 // the largest body in bytes; 0 for that of a form
}

func (r Route) bodyLimit() int64 {
	if r.Large > 0 {
		return r.Large
	}
	return maxFormBytes
}

// Routes lists every address, screen by screen. Whoever may read may also ask what-if questions (a label, a claim, the
// figures of a job): these keep nothing.
func Routes() []Route {
	return []Route{
		{"GET", "/{$}", Read, showShelf, 0},
		{"POST", "/welcome", Manage, begin, 0},
		{"POST", "/theme", Anyone, setTheme, 0},
		{"POST", "/upload", Work, upload, maxUploadBytes},
		{"GET", "/reading", Read, showReading, 0},
		{"POST", "/reading/cancel", Work, cancelReading, 0},

		{"GET", "/sheets/{id}/document", Read, showDocument, 0},
		{"GET", "/sheets/{id}/pages/{page}", Read, showPicture, 0},
		{"POST", "/sheets/{id}/again", Work, readAgain, 0},
		{"POST", "/sheets/{id}/off", Work, sheetOff, 0},

		{"GET", "/products/new", Work, showNewProduct, 0},
		{"POST", "/products/new", Work, keepProduct, 0},
		{"GET", "/products/{id}", Read, showProduct, 0},
		{"GET", "/products/{id}/emergency", Read, showEmergency, 0},
		{"GET", "/products/{id}/facts", Read, showFacts, 0},
		{"GET", "/products/{id}/correct", Work, showCorrect, 0},
		{"POST", "/products/{id}/corrections", Work, correct, 0},
		{"POST", "/products/{id}/corrections/back", Work, uncorrect, 0},
		{"POST", "/products/{id}/overrulings", Work, overrule, 0},
		{"POST", "/products/{id}/overrulings/back", Work, reinstate, 0},
		{"GET", "/products/{id}/tour", Read, showTour, 0},
		{"GET", "/products/{id}/label", Read, showLabel, 0},
		{"POST", "/products/{id}/label", Read, checkLabel, maxPhotoBytes},
		{"GET", "/products/{id}/claims", Read, showClaims, 0},
		{"POST", "/products/{id}/claims", Read, judgeClaims, 0},
		{"GET", "/products/{id}/revisions", Read, showRevisions, 0},
		{"GET", "/products/{id}/questions", Read, showProductQuestions, 0},
		{"POST", "/products/{id}/questions", Work, keepQuestions, 0},
		{"GET", "/products/{id}/letter/{kind}", Read, showLetter, 0},
		{"GET", "/products/{id}/edit", Read, showEdit, 0},
		{"POST", "/products/{id}/edit", Work, keepProduct, 0},
		{"POST", "/products/{id}/stock", Work, addStock, 0},
		{"POST", "/products/{id}/stock/{stock}/gone", Work, stockGone, 0},
		{"POST", "/products/{id}/reviewed", Work, reviewed, 0},
		{"POST", "/products/{id}/off", Manage, offShelf, 0},
		{"POST", "/products/{id}/back", Manage, backOnShelf, 0},

		{"GET", "/kits/new", Work, showKitForm, 0},
		{"POST", "/kits/new", Work, keepKit, 0},
		{"GET", "/kits/{id}", Read, showKit, 0},
		{"GET", "/kits/{id}/edit", Work, showKitForm, 0},
		{"POST", "/kits/{id}/edit", Work, keepKit, 0},

		{"GET", "/jobs", Read, showJobs, 0},
		{"GET", "/jobs/new", Read, showJob, 0},
		{"POST", "/jobs/new", Read, planJob, 0},
		{"GET", "/jobs/{id}", Read, showJob, 0},
		{"POST", "/jobs/{id}", Read, planJob, 0},
		{"GET", "/jobs/{id}/plan/{kind}", Read, showPlanFile, 0},

		{"GET", "/blends", Read, showBlend, 0},
		{"POST", "/blends", Read, workOutBlend, 0},
		{"POST", "/blends/draft/{kind}", Read, draftBlend, 0},

		{"GET", "/compare", Read, showCompare, 0},

		{"GET", "/compare/{kind}", Read, compareFile, 0},

		{"GET", "/questions", Read, showQuestions, 0},
		{"POST", "/questions/{id}/sent", Work, questionSent, 0},
		{"POST", "/questions/{id}/answer", Work, questionAnswered, 0},

		{"GET", "/products/{id}/papers", Read, showProductPapers, 0},
		{"POST", "/products/{id}/papers", Work, makeProductPaper, 0},
		{"GET", "/papers", Read, showPapers, 0},
		{"GET", "/register/{kind}", Read, showRegister, 0},
		{"GET", "/papers/{id}", Read, showPaper, 0},
		{"GET", "/papers/{id}/paper.pdf", Read, showPaperPDF, 0},
		{"GET", "/papers/{id}/paper.svg", Read, showPaperSVG, 0},
		{"POST", "/papers/{id}/read", Work, paperRead, 0},
		{"POST", "/papers/{id}/gone", Work, paperGone, 0},

		{"GET", "/places", Read, showPlaces, 0},
		{"POST", "/places", Work, keepPlace, 0},
		{"POST", "/places/{id}", Work, keepPlace, 0},

		{"GET", "/settings", Read, showSettings, 0},
		{"POST", "/settings", Manage, keepSettings, 0},
		{"POST", "/settings/name", Read, keepName, 0},

		{"GET", "/export/{kind}", Read, export, 0},
		{"GET", "/settings/backup", Manage, downloadBackup, 0},
		{"POST", "/settings/restore", Manage, restoreBackup, maxUploadBytes},

		{"GET", "/help", Read, showHelp, 0},

		{"GET", "/sign-in", Anyone, showSignIn, 0},
		{"POST", "/sign-in", Anyone, signIn, 0},
		{"POST", "/sign-out", Read, signOut, 0},
		{"POST", "/sign-out/everywhere", Read, signOutEverywhere, 0},
		{"GET", "/account", Read, showAccount, 0},
		{"POST", "/account/password", Read, changePassword, 0},
		{"POST", "/account/tokens", Read, makeToken, 0},
		{"POST", "/account/tokens/{id}/off", Read, dropToken, 0},
		{"GET", "/users", Manage, showUsers, 0},
		{"POST", "/users", Manage, addUser, 0},
		{"POST", "/users/{id}", Manage, editUser, 0},
		{"POST", "/users/{id}/password", Manage, resetPassword, 0},
		{"POST", "/users/{id}/off", Manage, closeAccount, 0},
	}
}
