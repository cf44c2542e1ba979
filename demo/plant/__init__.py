"""An invented plant of two unit areas, the same for ever, as plain data and as spreadsheets."""
