// The runner contributes nothing; the suite beside it is loaded as the tests of this development extension.
