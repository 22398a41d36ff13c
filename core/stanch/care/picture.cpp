#include "stanch/care/picture.hpp"

#include <nlohmann/json.hpp>

#include "stanch/care/woman_json.hpp"

namespace stanch::care {

Picture picture_of(const View& view) {
  Picture out;
  out.woman = woman(view);
  out.place = whereabouts(view);
  out.bleeding = bleeding(view);
  // -- measuring and recognising --
  out.signs = signs(view);
  out.shock_index = shock_index(view, out.signs, out.woman);
  out.blood_pressure = blood_pressure(view);
  out.loss = measured_loss(view);
  // -- first response, fluids, blood --
  // -- drugs --
  // -- garment --
  // -- observations --
  return out;
}

Json to_json(const Picture& picture, const View& view) {
  Json out = Json::object();
  out["woman"] = to_json(picture.woman, view.now());
  out["place"] = to_json(picture.place);
  out["bleeding"] = to_json(picture.bleeding);
  // -- measuring and recognising --
  out["signs"] = to_json(picture.signs);
  out["shock_index"] = to_json(picture.shock_index);
  out["blood_pressure"] = to_json(picture.blood_pressure);
  out["loss"] = to_json(picture.loss, view);
  // -- first response, fluids, blood --
  // -- drugs --
  // -- garment --
  // -- observations --
  return out;
}

}  // namespace stanch::care
