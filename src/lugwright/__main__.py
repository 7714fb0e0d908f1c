"""``python -m lugwright`` is the same as ``lugwright``."""

from lugwright.cli.main import main

if __name__ == "__main__":
    main()
