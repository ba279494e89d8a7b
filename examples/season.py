# %% [markdown]
# # A season
