-- What wrk asks the local page: AMPSUM_COOKIE lets it in; with AMPSUM_FRESH every request switches other loads, so that
-- no kept answer fits.
local cookie = os.getenv("AMPSUM_COOKIE")
local fresh = os.getenv("AMPSUM_FRESH")
local path = os.getenv("AMPSUM_ASKED") or "/"
local loads = {}
for load in (os.getenv("AMPSUM_LOADS") or ""):gmatch("%S+") do loads[#loads + 1] = load end
local number = 0

function request()
  local asked = path
  if fresh then
    number = number + 1
    local on = {}
    for i = 1, #loads do
      if math.floor(number / 2 ^ (i - 1)) % 2 == 1 then on[#on + 1] = loads[i] end
    end
    asked = path .. "?on=" .. table.concat(on, ",")
  end
  return wrk.format("GET", asked, { Cookie = cookie })
end

function done(summary, latency)
  local bad = summary.errors.status + summary.errors.read + summary.errors.write + summary.errors.timeout
  io.write(string.format("%.0f requests/s, median %.2f ms, 99%% %.2f ms, %d refused\n",
    summary.requests / summary.duration * 1e6, latency:percentile(50) / 1000, latency:percentile(99) / 1000, bad))
end
