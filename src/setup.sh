# Sourced by src/demo.sh and tests/run.sh: installs what is missing from Debian's packages, then configures build/.
# Expects $root, the top of the repo.

debian_packages=(
  cmake g++ ninja-build pkg-config
  libjpeg62-turbo-dev libpng-dev libwebp-dev libheif-dev liblcms2-dev libexif-dev
  libboost-dev nlohmann-json3-dev libcli11-dev libfmt-dev libcpp-httplib-dev
  libcairo2-dev libpango1.0-dev fonts-dejavu-core fonts-lato fonts-linuxlibertine
)

install_missing() {
  local missing=() package
  for package in "$@"; do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
  done
  [ "${#missing[@]}" -gt 0 ] || return 0
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "These Debian packages are missing, and installing them takes root or sudo: ${missing[*]}" >&2
      return 1
    fi
    as_root=(sudo)
  fi
  echo "Installing from Debian's packages: ${missing[*]}"
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get update -q
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
}

configure() {
  local strict=OFF
  [ "${MOTLEY_STRICT:-}" = 1 ] && strict=ON
  cmake -S "$root" -B "$root/build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DMOTLEY_STRICT=$strict
}
