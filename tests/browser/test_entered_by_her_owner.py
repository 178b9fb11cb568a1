"""A boat entered on the pages alone, as her owner would, comes out as from her file."""

import time

import pytest
from onpage import serving
from owner_entry import begun
from playwright.sync_api import expect

from hullchange.assess import assess
