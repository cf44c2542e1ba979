"""An invented plant, written as spreadsheets and driven as a user would."""
