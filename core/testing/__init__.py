"""What the tests of the project and of plugins share: the runner of check files, and the conformance kit.

A plugin's own test: `failed(conformance("name")) == []`, both from `afield.core.testing.conformance`.
"""
