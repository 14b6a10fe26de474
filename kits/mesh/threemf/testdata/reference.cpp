// reference reads 3MF files with the consortium's own library and prints what a test
// compares: for each file of the command line a line with its name and whether it was read,
// then a line for each mesh that the build places: triangles, six times the volume, and the
// box, in the unit of the file.
#include <algorithm>
#include <array>
#include <cstdio>
#include <string>
#include <vector>

#include "Model/COM/NMR_DLLInterfaces.h"

using namespace NMR;

typedef std::array<double, 12> Matrix; // rows of x, y, z and the shift

static const Matrix identity = {1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0};

// fields turns the library's transform, which it keeps by columns, into rows.
static Matrix fields(const MODELTRANSFORM &t) {
  Matrix m;
  for (int row = 0; row < 4; row++)
    for (int column = 0; column < 3; column++)
      m[3 * row + column] = t.m_fFields[column][row];
  return m;
}

static std::array<double, 3> apply(const Matrix &m, const std::array<double, 3> &p) {
  std::array<double, 3> out;
  for (int k = 0; k < 3; k++)
    out[k] = p[0] * m[k] + p[1] * m[3 + k] + p[2] * m[6 + k] + m[9 + k];
  return out;
}

// then is a transform followed by another.
static Matrix then(const Matrix &a, const Matrix &b) {
  Matrix out;
  for (int row = 0; row < 4; row++) {
    std::array<double, 3> p = {a[3 * row], a[3 * row + 1], a[3 * row + 2]};
    for (int k = 0; k < 3; k++)
      out[3 * row + k] = p[0] * b[k] + p[1] * b[3 + k] + p[2] * b[6 + k] + (row == 3 ? b[9 + k] : 0);
  }
  return out;
}

static bool fine = true;

static void must(LIB3MFRESULT result) {
  if (result != LIB3MF_OK) fine = false;
}

static void mesh(PLib3MFModelMeshObject *object, const Matrix &place) {
  DWORD corners = 0, triangles = 0;
  must(lib3mf_meshobject_getvertexcount(object, &corners));
  must(lib3mf_meshobject_gettrianglecount(object, &triangles));
  std::vector<std::array<double, 3>> points;
  for (DWORD i = 0; i < corners; i++) {
    MODELMESHVERTEX v;
    must(lib3mf_meshobject_getvertex(object, i, &v));
    points.push_back(apply(place, {v.m_fPosition[0], v.m_fPosition[1], v.m_fPosition[2]}));
  }
  double volume = 0;
  std::array<double, 3> low = {0, 0, 0}, high = {0, 0, 0};
  bool any = false;
  for (DWORD i = 0; i < triangles; i++) {
    MODELMESHTRIANGLE t;
    must(lib3mf_meshobject_gettriangle(object, i, &t));
    auto &a = points[t.m_nIndices[0]], &b = points[t.m_nIndices[1]], &c = points[t.m_nIndices[2]];
    volume += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
    for (auto p : {a, b, c}) {
      for (int k = 0; k < 3; k++) {
        low[k] = any ? std::min(low[k], p[k]) : p[k];
        high[k] = any ? std::max(high[k], p[k]) : p[k];
      }
      any = true;
    }
  }
  printf("mesh %u %.9g %.9g %.9g %.9g %.9g %.9g %.9g\n", (unsigned)triangles, volume, low[0], low[1], low[2], high[0], high[1], high[2]);
}

static void place(PLib3MFModelObjectResource *object, const Matrix &at) {
  BOOL yes = 0;
  must(lib3mf_object_ismeshobject(object, &yes));
  if (yes) return mesh(object, at);
  DWORD n = 0;
  must(lib3mf_componentsobject_getcomponentcount(object, &n));
  for (DWORD i = 0; i < n; i++) {
    PLib3MFModelComponent *component;
    PLib3MFModelObjectResource *inner;
    MODELTRANSFORM t;
    must(lib3mf_componentsobject_getcomponent(object, i, &component));
    must(lib3mf_component_getobjectresource(component, &inner));
    must(lib3mf_component_gettransform(component, &t));
    place(inner, then(fields(t), at));
    lib3mf_release(inner);
    lib3mf_release(component);
  }
}

static void build(PLib3MFModel *model) {
  PLib3MFModelBuildItemIterator *items;
  BOOL more = 0;
  must(lib3mf_model_getbuilditems(model, &items));
  while (lib3mf_builditemiterator_movenext(items, &more) == LIB3MF_OK && more) {
    PLib3MFModelBuildItem *item;
    PLib3MFModelObjectResource *object;
    BOOL moved = 0;
    Matrix at = identity;
    must(lib3mf_builditemiterator_getcurrent(items, &item));
    must(lib3mf_builditem_getobjectresource(item, &object));
    must(lib3mf_builditem_hasobjecttransform(item, &moved));
    if (moved) {
      MODELTRANSFORM t;
      must(lib3mf_builditem_getobjecttransform(item, &t));
      at = fields(t);
    }
    place(object, at);
    lib3mf_release(object);
    lib3mf_release(item);
  }
  lib3mf_release(items);
}

int main(int argc, char **argv) {
  for (int i = 1; i < argc; i++) {
    PLib3MFModel *model;
    PLib3MFModelReader *reader;
    if (lib3mf_createmodel(&model) != LIB3MF_OK || lib3mf_model_queryreader(model, "3mf", &reader) != LIB3MF_OK) return 1;
    bool read = lib3mf_reader_readfromfileutf8(reader, argv[i]) == LIB3MF_OK;
    DWORD warnings = 0;
    if (read) must(lib3mf_reader_getwarningcount(reader, &warnings));
    printf("file %s %s %u\n", read ? "read" : "refused", argv[i], (unsigned)warnings);
    if (read) build(model);
    lib3mf_release(reader);
    lib3mf_release(model);
  }
  return fine ? 0 : 1;
}
