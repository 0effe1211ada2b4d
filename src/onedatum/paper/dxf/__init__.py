"""The elevation for drawing programs (DXF): vessel, nozzle, stem and float, with the data of the order."""
