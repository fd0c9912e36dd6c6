"""What moves a scenario: curves, break-evens, rankings, tables of two inputs."""
