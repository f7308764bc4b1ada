// Writes a 3MF with the format's reference library, for tests of our own reader.
// Standard input: the unit's number; a mesh as counts, vertices and triangles; three transforms of 3 × 4 numbers,
// row by row: of the mesh's own build item, of a component made of it, of the item of that component's object.
#include <cstdio>
#include <vector>

#include <lib3mf/Model/COM/NMR_DLLInterfaces.h>

using namespace NMR;

static bool readTransform(MODELTRANSFORM &transform) {
  for (auto &row : transform.m_fFields)
    for (auto &field : row)
      if (std::scanf("%f", &field) != 1) return false;
  return true;
}

#define CHECK(call) if ((call) != 0) { std::fprintf(stderr, "failed: %s\n", #call); return 1; }

int main(int, char **arguments) {
  unsigned unit, vertexCount, triangleCount;
  if (std::scanf("%u %u %u", &unit, &vertexCount, &triangleCount) != 3) return 2;
  std::vector<MODELMESHVERTEX> vertices(vertexCount);
  std::vector<MODELMESHTRIANGLE> triangles(triangleCount);
  for (auto &vertex : vertices)
    for (auto &position : vertex.m_fPosition)
      if (std::scanf("%f", &position) != 1) return 2;
  for (auto &triangle : triangles)
    for (auto &index : triangle.m_nIndices)
      if (std::scanf("%u", &index) != 1) return 2;
  MODELTRANSFORM own, component, whole;
  if (!readTransform(own) || !readTransform(component) || !readTransform(whole)) return 2;

  PLib3MFModel *model;
  PLib3MFModelMeshObject *mesh;
  PLib3MFModelComponentsObject *group;
  PLib3MFModelComponent *member;
  PLib3MFModelBuildItem *item;
  PLib3MFModelWriter *writer;
  CHECK(lib3mf_createmodel(&model));
  CHECK(lib3mf_model_setunit(model, unit));
  CHECK(lib3mf_model_addmeshobject(model, &mesh));
  CHECK(lib3mf_object_setnameutf8(mesh, "K\xc3\xa4" "fer"));
  CHECK(lib3mf_meshobject_setgeometry(mesh, vertices.data(), vertexCount, triangles.data(), triangleCount));
  CHECK(lib3mf_model_addcomponentsobject(model, &group));
  CHECK(lib3mf_componentsobject_addcomponent(group, mesh, &component, &member));
  CHECK(lib3mf_model_addbuilditem(model, mesh, &own, &item));
  CHECK(lib3mf_model_addbuilditem(model, group, &whole, &item));
  CHECK(lib3mf_model_querywriter(model, "3mf", &writer));
  CHECK(lib3mf_writer_writetofileutf8(writer, arguments[1]));
  return 0;
}
