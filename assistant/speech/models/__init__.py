"""The recognisers' models: the catalogue of them, and their files.

`catalogue` says what there is; `files` fetches and checks, by way of `downloads`.

"""
