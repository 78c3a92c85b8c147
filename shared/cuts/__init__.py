"""Every pass of a job and what it needs, orders a saw can follow, numbered cuts and totals."""
