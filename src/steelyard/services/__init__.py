"""Use cases, one function for each thing a person does; here the clock is read and transactions begin."""
