"""`python -m onedatum`: the same as the command `onedatum`."""

from onedatum.cli.start import main

if __name__ == "__main__":
    main()
