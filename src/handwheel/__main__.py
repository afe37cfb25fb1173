"""`python -m handwheel`: the command line."""

from handwheel.cli.main import main

raise SystemExit(main())
