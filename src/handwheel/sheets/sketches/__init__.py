"""Pictures of set-ups: what is set, touched and measured, beside the steps that say so."""
