"""The screens by noun; each module gives one router."""
